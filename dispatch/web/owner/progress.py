"""How far the planner is with a week, in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from dispatch.actions import awaited_sky
from dispatch.records.models import WeekPlan

_MOST_NAMED = 3

PHASES: Mapping[str, str] = {
    "compile": "Compiling the search, the first time only",
    "start": "Making a first week",
    "search": "Looking for a better week",
    "explain": "Finding out why the rest is left out",
    "done": "Judging the week",
}


@dataclass(frozen=True, kw_only=True)
class Told:
    """A plan being built: what the planner does, the cost of its best week so far, its steps.

    ``floor`` is what no week is proven to cost less than, in the outfit's money; None where nothing is proven.
    """

    plan: int
    phase: str
    cost: float | None
    floor: float | None
    steps: int
    seconds: int
    stopping: bool

    @property
    def gap(self) -> float | None:
        """What a better week than the best so far could save at most; None where that is not known."""
        if self.cost is None or self.floor is None:
            return None
        return max(0.0, self.cost - self.floor)


def told(plan: WeekPlan) -> Told:
    """What to tell of a plan that is asked for or being built."""
    line = plan.progress
    waiting = plan.state == WeekPlan.State.ASKED and not line
    phase = "Waiting for a worker" if waiting else _phase(line)
    return Told(
        plan=plan.pk,
        phase=phase,
        cost=_money(line.get("cost")),
        floor=_money(line.get("bound")),
        steps=line.get("steps", 0),
        seconds=plan.seconds,
        stopping=plan.stop_asked,
    )


def _money(cents: int | None) -> float | None:
    return None if cents is None else cents / 100


def unjudged(plan: WeekPlan) -> str:
    """Whose sky was not judged yet when a plan was built, as words; empty where all was."""
    return _named(plan.progress.get("unjudged", ()))


def _phase(line: Mapping[str, Any]) -> str:
    name = line.get("phase", "")
    if name == awaited_sky.PHASE:
        return f"Waiting for the sky of {_named(line['boats'])} to be judged"
    return PHASES.get(name, name.capitalize() or "Reading the rows")


def _named(boats: Sequence[str]) -> str:
    """Some boats by name, or how many."""
    if len(boats) > _MOST_NAMED:
        return f"{len(boats)} boats"
    return " and ".join(filter(None, (", ".join(boats[:-1]), *boats[-1:])))
