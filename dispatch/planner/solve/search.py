"""The search as a whole: starts, walks until told to stop, hands over judged plans only."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from dispatch.planner.plan import Plan, VanDay
from dispatch.planner.problem import Problem
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.give import give
from dispatch.planner.solve.insert import Inserter
from dispatch.planner.solve.jobs import placed, placed_whole
from dispatch.planner.solve.money import total_cents
from dispatch.planner.solve.start import empty, starting_weeks
from dispatch.planner.solve.state import State
from dispatch.planner.solve.walk import Walk

Accept = Callable[[Plan], bool]


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """When to stop: after `steps` (None: no limit), or when `stop` says how far along we are."""

    seed: int
    steps: int | None
    done: Callable[[], float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Start:
    """An earlier plan to start from; binds nothing."""

    van_days: Sequence[VanDay] = ()
    chosen: Mapping[str, str] = field(default_factory=dict)


class Search:
    """Looks for a cheap week; `accept` judges each better plan and may refuse it."""

    def __init__(self, problem: Problem, limits: Limits, accept: Accept) -> None:
        self.problem, self.limits, self.accept = problem, limits, accept
        self.facts = Facts(problem)
        self.inserter = Inserter(self.facts, Random(limits.seed))  # noqa: S311 - no secret
        self.inserter.enough = lambda: limits.done() >= 1
        self.best: State | None = None
        self.steps = 0

    def run(self, start: Start) -> None:
        """Search from the frozen and pinned week until the limits say stop."""
        weeks = [
            *starting_weeks(self.inserter, start.van_days, start.chosen),
            empty(self.facts, self.inserter),
        ]
        self.best = next((week for week in weeks if self.accept(give(week))), None)
        walk = Walk(self.inserter, self.best or weeks[0], self._better)
        if self.best is None:
            walk.least = math.inf
        while (progress := self._progress()) < 1:
            walk.step(progress)
            self.steps += 1

    def _progress(self) -> float:
        along = self.limits.done()
        if self.limits.steps is not None:
            along = max(along, self.steps / max(1, self.limits.steps))
        return along

    def _better(self, state: State) -> bool:
        if not self.accept(give(state)):
            return False
        self.best = state
        return True

    def cents_to_add(self, enough: Callable[[], bool]) -> dict[str, float | None]:
        """For each stage left out: what placing it would add, None where no room was found.

        A stage its job cannot do without is priced with the whole rest of its job.
        """
        state, found = self.best, dict[str, float | None]()
        if state is None:
            return found
        self.inserter.enough = enough
        before = total_cents(state)
        for job, stages in enumerate(self.facts.of_job):
            missing = [s for s in stages if state.here(s) and s not in state.seen]
            must = [s for s in missing if not self.facts.stages[s].extra]
            whole = placed_whole(self.inserter, state, job) if must else None
            for stage in missing:
                week = whole if stage in must else placed(self.inserter, state, stage)
                added = None if week is None else total_cents(week) - before
                found[self.facts.stages[stage].id] = added
        return found
