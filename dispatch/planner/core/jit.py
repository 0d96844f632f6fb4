"""Compiles the search once for each version of it and each kind of processor, and keeps the machine code.

A process that finds it kept never loads the compiler (which takes longer than many a search): it reads
the machine code, and the functions decorated here stay the plain Python they are written in.
"""

import hashlib
import os
import shutil
from collections.abc import Callable
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any, TypeVar

from llvmlite.binding import get_host_cpu_features, get_host_cpu_name

F = TypeVar("F", bound=Callable[..., Any])
HERE = Path(__file__).parent


def version_of(room: Path) -> str:
    """Return a hash of a room's files, the compiler and the processor: a change in one must compile anew."""
    found = hashlib.sha256(_compiler().read_bytes())
    found.update(get_host_cpu_name().encode())
    found.update(get_host_cpu_features().flatten().encode())
    for path in sorted(room.glob("*.py")):
        found.update(path.read_bytes())
    return found.hexdigest()[:16]


def _compiler() -> Path:
    """Return the file of numba's version, without loading numba."""
    spec = find_spec("numba")
    if spec is None or spec.origin is None:
        raise ImportError("The planner needs numba, which is not installed.")
    return Path(spec.origin).with_name("_version.py")


@cache
def kept() -> Path:
    """Return the file that keeps the machine code: beside the sources, or in the user's own cache."""
    name = f"search-{version_of(HERE)}.o"
    beside = HERE / "__pycache__"
    try:
        beside.mkdir(parents=True, exist_ok=True)
    except OSError:
        return Path.home() / ".cache" / "leeboard" / name
    if os.access(beside, os.W_OK) or (beside / name).exists():
        return beside / name
    return Path.home() / ".cache" / "leeboard" / name


def is_compiled() -> bool:
    """Whether the machine code of the sources as they stand is kept."""
    return kept().exists()


def keep(code: bytes) -> None:
    """Keep the machine code whole or not at all; throw away that of other versions."""
    path = kept()
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(f".{os.getpid()}")
    part.write_bytes(code)
    part.replace(path)
    for other in path.parent.glob("search-*"):
        if other != path:
            other.unlink(missing_ok=True)
    for folder in path.parent.glob("compiled-*"):
        shutil.rmtree(folder, ignore_errors=True)


_HOW: dict[str, Any] = {
    "error_model": "numpy",
    "no_cpython_wrapper": True,
    "no_cfunc_wrapper": True,
    "_nrt": False,  # nothing is allocated, so nothing need be counted
}


def fast(function: F) -> F:
    """Have a function compiled with those that call it, unless all are."""
    if is_compiled():
        return function
    from numba import njit  # noqa: PLC0415 - takes longer to load than many a search

    compiled: F = njit(**_HOW)(function)
    return compiled
