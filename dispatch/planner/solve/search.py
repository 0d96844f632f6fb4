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
from dispatch.planner.solve.pool import Pool
from dispatch.planner.solve.recombine import Terms, recombine
from dispatch.planner.solve.start import empty, starting_weeks
from dispatch.planner.solve.state import State
from dispatch.planner.solve.walk import Walk

# The shares of the effort after which the van-days seen so far are recombined, and how hard.
_RECOMBINE_AT = (0.4, 0.8)
_RECOMBINE_WORK = 6.0
_MOST_COLUMNS = 1200

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
        self.pool = Pool(_MOST_COLUMNS)

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
        walk.seen = self._keep
        for share in _RECOMBINE_AT:
            self._walk(walk, share)
            self._recombine(walk)
        self._walk(walk, 1)

    def _walk(self, walk: Walk, until: float) -> None:
        while (progress := self._progress()) < until:
            walk.step(progress)
            self.steps += 1

    def _keep(self, state: State, cents: float) -> None:
        self.pool.add(give(state), cents)

    def _recombine(self, walk: Walk) -> None:
        """Have CP-SAT pick the cheapest week out of every van-day the walk has seen, and walk on from it."""
        if self.best is None or self._progress() >= 1:
            return
        terms = Terms(
            work=_RECOMBINE_WORK,
            seed=self.limits.seed,
            accept=self.accept,
            stop=lambda: self.limits.done() >= 1,
        )
        found = recombine(self.problem, self.pool, give(self.best), terms)
        if found is None:
            return
        weeks = starting_weeks(self.inserter, found.van_days, found.chosen)
        week = next((week for week in weeks if self.accept(give(week))), None)
        if week is not None and total_cents(week) < walk.least:
            self.best = week
            walk.restart(week)

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
