"""Machine code of compiled functions, which numba made: loaded and called without it.

What is called is numba's own convention (its `CPUCallConv`): where the answer goes, where a fault is
told, then the arguments, a record by its address; what comes back says whether it failed.
"""

import ctypes
from collections.abc import Callable
from typing import Any, get_type_hints

import llvmlite.binding as llvm
import numpy as np

Function = Callable[..., Any]
_NUMBERS: dict[Any, Any] = {
    int: ctypes.c_int64,
    float: ctypes.c_double,
    bool: ctypes.c_uint8,
}


class Native:
    """Machine code in memory."""

    def __init__(self, code: bytes) -> None:
        self._engine = llvm.create_mcjit_compiler(
            llvm.parse_assembly(""), this_machine()
        )
        self._engine.add_object_file(llvm.ObjectFileRef.from_data(code))
        self._engine.finalize_object()

    def bind(self, function: Function) -> Function:
        """Return what calls the machine code of a function; it lets go of the interpreter meanwhile."""
        *kinds, result = kinds_of(function)
        takes = [_NUMBERS.get(kind, ctypes.c_void_p) for kind in kinds]
        shape = ctypes.CFUNCTYPE(
            ctypes.c_int32, ctypes.c_void_p, ctypes.c_void_p, *takes
        )
        call = shape(self._engine.get_function_address(name_of(function)))
        answer = _NUMBERS.get(result, ctypes.c_void_p)

        def called(*given: Any) -> Any:  # noqa: ANN401 - as the function's
            found, fault = answer(), ctypes.c_void_p()
            plain = (
                _address(one) if isinstance(one, np.void) else one for one in given
            )
            if call(ctypes.byref(found), ctypes.byref(fault), *plain):
                raise RuntimeError(f"{function.__name__} failed in machine code.")
            return result(found.value) if result else None

        return called


def name_of(function: Function) -> str:
    """Return what a function is called in the machine code."""
    return f"leeboard.{function.__name__}"


def kinds_of(function: Function) -> list[Any]:
    """Return the types of the arguments, then of the answer: a number's, the name of a record, None."""
    plain = getattr(function, "py_func", function)
    hints = get_type_hints(plain, include_extras=True)
    return [
        hint.__metadata__[0] if hasattr(hint, "__metadata__") else _some(hint)
        for hint in hints.values()
    ]


def _some(hint: type) -> type | None:
    return None if hint is type(None) else hint


def _address(record: np.void) -> int:
    where: int = record.__array_interface__["data"][0]
    return where


def this_machine() -> llvm.TargetMachine:
    """Return this processor, described as numba does."""
    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    return llvm.Target.from_default_triple().create_target_machine(
        cpu=llvm.get_host_cpu_name(),
        features=llvm.get_host_cpu_features().flatten(),
        opt=3,
        codemodel="jitdefault",
        jit=True,
    )
