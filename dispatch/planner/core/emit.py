"""`python -m dispatch.planner.core.emit`: compile the search as one program, and keep its machine code.

Left to itself, numba optimises each function together with all it calls, anew for each that calls it:
the innermost would be worked through a dozen times over. Here each is only lowered; then all are linked
and optimised once, in a fifth of the time and to the same speed. What numba compiled so far it could not
run, so this has a process of its own.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import llvmlite.binding as llvm
import numpy as np
from numba import from_dtype, types
from numba.core.codegen import CPUCodeLibrary, JITCodeLibrary
from numba.core.dispatcher import Dispatcher
from numba.core.registry import cpu_target

from dispatch.planner.core import calls, jit
from dispatch.planner.core.native import Function, kinds_of, name_of, this_machine

# What numba calls the same.
_TYPES = {int: types.int64, float: types.float64, bool: types.boolean}


class _Lowered(JITCodeLibrary):
    """A function's code as lowered: neither linked nor optimised, with no address."""

    def finalize(self) -> None:
        """Leave the code as it is."""
        self._finalized = True

    def get_pointer_to_function(self, _name: str) -> int:
        """Return no address."""
        return 0


_template = Dispatcher.get_call_template


def _plainly(callee: Dispatcher, takes: tuple[Any, ...], named: dict[str, Any]) -> Any:  # noqa: ANN401 - numba's own
    """Return how a function is called from another, a number that is written out being one like any other.

    Numba would compile a function anew for each number that somebody calls it with: half of all it did.
    """
    plain: Callable[[Any], Any] = types.unliteral
    names = {name: plain(one) for name, one in named.items()}
    return _template(callee, tuple(plain(one) for one in takes), names)


def emit(functions: Sequence[Function], records: Mapping[str, np.dtype[Any]]) -> bytes:
    """Return the machine code of functions that numba has, each argument a number or a record by name."""
    codegen = cpu_target.target_context.codegen()
    codegen._library_class = _Lowered  # noqa: SLF001 - no other door
    codegen.set_env = lambda *_: None
    Dispatcher.get_call_template = _plainly  # type: ignore[method-assign, assignment]
    called = dict(_lower(function, records) for function in functions)
    whole = _linked(called)
    passes, builder = codegen._module_pass_manager()  # noqa: SLF001
    passes.run(whole, builder)
    return bytes(this_machine().emit_object(whole))


def _lower(
    function: Function, records: Mapping[str, np.dtype[Any]]
) -> tuple[str, tuple[str, CPUCodeLibrary]]:
    """Return numba's name of a function; ours, and its code."""
    takes = tuple(
        from_dtype(records[kind]) if isinstance(kind, str) else _TYPES[kind]
        for kind in kinds_of(function)[:-1]
    )
    function.compile(takes)  # type: ignore[attr-defined]
    made = function.overloads[takes]  # type: ignore[attr-defined]
    return made.fndesc.llvm_func_name, (name_of(function), made.library)


def _linked(called: Mapping[str, tuple[str, CPUCodeLibrary]]) -> llvm.ModuleRef:
    """Return all code as one; from outside, only what is called can be seen."""
    whole = llvm.parse_assembly("")
    for library in _needed([library for _, library in called.values()]):
        whole.link_in(library._final_module, preserve=True)  # noqa: SLF001
    for one in (*whole.functions, *whole.global_variables):
        if not one.is_declaration and one.name not in called:
            one.linkage = "internal"
    for name, (ours, _) in called.items():
        whole.get_function(name).name = ours
    return whole


def _needed(libraries: list[CPUCodeLibrary]) -> list[CPUCodeLibrary]:
    """Return the libraries and those they need, each once."""
    found = dict.fromkeys(libraries)
    todo = list(found)
    while todo:
        more = [one for one in todo.pop()._linking_libraries if one not in found]  # noqa: SLF001
        found |= dict.fromkeys(more)
        todo += more
    return list(found)


if __name__ == "__main__":
    jit.keep(emit(calls.CALLED, calls.RECORDS))
