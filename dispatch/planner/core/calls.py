"""What Python calls of the compiled search; it is compiled where it was not yet."""

import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from dispatch.planner.core import change, jit, jobs, measure, price
from dispatch.planner.core import walk as walking
from dispatch.planner.core.native import Native
from dispatch.planner.core.room import ROOM
from dispatch.planner.core.shapes import GIVEN, SCORE, WEEK

F = TypeVar("F", bound=Callable[..., Any])
RECORDS = {"given": GIVEN, "week": WEEK, "room": ROOM, "score": SCORE}
CALLED: list[Callable[..., Any]] = []


def compile_all() -> None:
    """Compile the search, which takes a minute, and keep it."""
    command = [sys.executable, "-m", "dispatch.planner.core.emit"]
    subprocess.run(command, cwd=Path(__file__).parents[3], check=True)  # noqa: S603 - our own


@cache
def _native() -> Native:
    if not jit.is_compiled():
        compile_all()
    return Native(jit.kept().read_bytes())


def _call(function: F) -> F:
    """Return what calls the compiled function, which is loaded with the first call."""
    CALLED.append(function)
    bound = cache(lambda: _native().bind(function))

    def called(*given: Any) -> Any:  # noqa: ANN401 - as the function's
        return bound()(*given)

    return called  # type: ignore[return-value]


added_by_job = _call(jobs.added_by_job)
added_by_stage = _call(jobs.added_by_stage)
fill_up = _call(walking.fill_up)
measure_all = _call(measure.measure_all)
put_pinned = _call(jobs.put_pinned)
renew = _call(change.renew)
total_cents = _call(price.total_cents)
walk = _call(walking.walk)
