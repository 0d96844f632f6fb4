"""Compiles the floor's functions once for each version of this room, apart from the search's."""

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from dispatch.planner.core.jit import kept, version_of

F = TypeVar("F", bound=Callable[..., Any])

_HOW: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy"}


def cache_folder() -> Path:
    """Return where this room's compiled code is kept: beside the search's."""
    return kept().parent / f"floor-{version_of(Path(__file__).parent)}"


def is_compiled() -> bool:
    """Whether everything was compiled from the sources as they stand."""
    return (cache_folder() / "done").exists()


def keep_only_this() -> None:
    """Note that all is compiled; throw away what was compiled from other versions."""
    folder = cache_folder()
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "done").touch()
    for other in folder.parent.glob("floor-*"):
        if other != folder:
            shutil.rmtree(other, ignore_errors=True)


def fast(function: F) -> F:
    """Compile a function; it lets go of the interpreter while it runs."""
    import numba  # noqa: PLC0415 - who asks only whether all is compiled need not load it

    usual = numba.config.CACHE_DIR  # type: ignore[attr-defined]
    numba.config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]
    try:
        compiled: F = numba.njit(**_HOW)(function)
    finally:
        numba.config.CACHE_DIR = usual  # type: ignore[attr-defined]
    return compiled
