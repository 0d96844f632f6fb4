"""How far the planner is with a week, in words."""

from collections.abc import Mapping
from dataclasses import dataclass

from dispatch.records.models import WeekPlan

PHASES: Mapping[str, str] = {
    "compile": "Compiling the search, the first time only",
    "start": "Making a first week",
    "search": "Looking for a better week",
    "explain": "Finding out why the rest is left out",
    "done": "Judging the week",
}


@dataclass(frozen=True, kw_only=True)
class Told:
    """A plan being built: what the planner does, the cost of its best week so far, its steps."""

    plan: int
    phase: str
    cost: float | None
    steps: int
    seconds: int
    stopping: bool


def told(plan: WeekPlan) -> Told:
    """What to tell of a plan that is asked for or being built."""
    line = plan.progress
    waiting = plan.state == WeekPlan.State.ASKED
    phase = "Waiting for a worker" if waiting else _phase(line.get("phase", ""))
    cost = line.get("cost")
    return Told(
        plan=plan.pk,
        phase=phase,
        cost=None if cost is None else cost / 100,
        steps=line.get("steps", 0),
        seconds=plan.seconds,
        stopping=plan.stop_asked,
    )


def _phase(name: str) -> str:
    return PHASES.get(name, name.capitalize() or "Reading the rows")
