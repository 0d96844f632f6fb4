"""Compiles the search's functions once for each version of them, and keeps what was compiled."""

import hashlib
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import numba

F = TypeVar("F", bound=Callable[..., Any])


def _version() -> str:
    """Return a hash of this room's files: a change in one must compile its callers anew."""
    found = hashlib.sha256(numba.__version__.encode())
    for path in sorted(Path(__file__).parent.glob("*.py")):
        found.update(path.read_bytes())
    return found.hexdigest()[:16]


def cache_folder() -> Path:
    """Return where the compiled code is kept: beside the sources, or in the user's own cache."""
    beside = Path(__file__).parent / "__pycache__" / f"compiled-{_version()}"
    try:
        beside.mkdir(parents=True, exist_ok=True)
    except OSError:
        return Path.home() / ".cache" / "leeboard" / beside.name
    if os.access(beside, os.W_OK):
        return beside
    return Path.home() / ".cache" / "leeboard" / beside.name


def is_compiled() -> bool:
    """Whether everything was compiled from the sources as they stand."""
    return (cache_folder() / "done").exists()


def keep_only_this() -> None:
    """Note that all is compiled; throw away what was compiled from other versions."""
    folder = cache_folder()
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "done").touch()
    for other in folder.parent.glob("compiled-*"):
        if other != folder:
            shutil.rmtree(other, ignore_errors=True)


numba.config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]


_HOW: dict[str, Any] = {
    "cache": True,
    "nogil": True,
    "error_model": "numpy",
    "_nrt": False,  # nothing is allocated, so nothing need be counted
}
_INNER = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}


def fast(function: F) -> F:
    """Compile a function that only compiled functions call."""
    compiled: F = numba.njit(**_HOW | _INNER)(function)
    return compiled


def entry(function: F) -> F:
    """Compile a function that Python calls; it lets go of the interpreter while it runs."""
    compiled: F = numba.njit(**_HOW)(function)
    return compiled
