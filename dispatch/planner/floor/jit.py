"""Compiles the floor's functions once for each version of this room, apart from the search's."""

import hashlib
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import numba

from dispatch.planner.core.jit import cache_folder as search_folder

F = TypeVar("F", bound=Callable[..., Any])

_HOW: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy"}


def _version() -> str:
    """Return a hash of this room's files: a change in one must compile its callers anew."""
    found = hashlib.sha256(numba.__version__.encode())
    for path in sorted(Path(__file__).parent.glob("*.py")):
        found.update(path.read_bytes())
    return found.hexdigest()[:16]


def cache_folder() -> Path:
    """Return where this room's compiled code is kept: beside the search's."""
    return search_folder().parent / f"floor-{_version()}"


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
    usual = numba.config.CACHE_DIR  # type: ignore[attr-defined]
    numba.config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]
    try:
        compiled: F = numba.njit(**_HOW)(function)
    finally:
        numba.config.CACHE_DIR = usual  # type: ignore[attr-defined]
    return compiled
