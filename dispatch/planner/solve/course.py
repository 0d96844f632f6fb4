"""How the walks of a search go: how warm when, and where they turn."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from dispatch.planner.core.shapes import Week
from dispatch.planner.problem import Problem
from dispatch.planner.solve.detours import Detours
from dispatch.planner.solve.schedule import ALONE, NEAR, Schedule
from dispatch.planner.solve.shares import is_large
from dispatch.planner.solve.walker import Walker


class Course(Protocol):
    """What a search asks by the share of the effort used, and the steps of each walk so far."""

    @property
    def out(self) -> bool:
        """Whether walks are at other prices than the true ones now."""

    def heat(self, along: float, steps: int) -> float:
        """Return how warm walks are now, in units of what a typical stage costs."""

    def over(self, along: float, steps: int) -> bool:
        """Whether walks have come to a turn."""

    def turn(self, best: Week | None, along: float, steps: int) -> None:
        """Let every walk go on as it should from here; `best` is the best week so far."""


@dataclass(kw_only=True, slots=True)
class Anew:
    """Walks that begin anew from nothing as long as the schedule says, then all go on from the best week."""

    schedule: Schedule
    walkers: Sequence[Walker]
    bare: Week
    stages: int
    out: bool = False

    def heat(self, along: float, steps: int) -> float:  # noqa: ARG002 - of every course
        """Return the heat of the schedule."""
        return self.schedule.heat(along)

    def over(self, along: float, steps: int) -> bool:  # noqa: ARG002 - of every course
        """Whether a short walk has come to its end."""
        return self.schedule.over(along)

    def turn(self, best: Week | None, along: float, steps: int) -> None:
        """Let every walk begin again from nothing, or all go on from the best week so far."""
        ends = [walker.least for walker in self.walkers]
        self.schedule.note(ends, steps, self.stages, along)
        for walker in self.walkers:
            if self.schedule.short:
                walker.forget(self.bare)
                walker.fill()
            elif best is not None:
                walker.forget(best)


def course(
    problem: Problem, walkers: Sequence[Walker], bare: Week, seed: int, *, told: bool
) -> Course:
    """Return how walks go: those from a told week stay near it; where one visit binds another, they begin anew."""
    given = walkers[0].given
    if told and not is_large(given):
        return Detours(given, walkers, seed)
    stages = problem.stages.values()
    anew = any(s.after or s.trailers for s in stages)
    schedule = Schedule(anew=anew and not told, warmth=NEAR if told else ALONE)
    return Anew(schedule=schedule, walkers=walkers, bare=bare, stages=len(stages))
