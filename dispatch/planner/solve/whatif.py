"""A plan's week in arrays, to ask what a change would cost; the plan itself stays as it is."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from dispatch.planner.core.calls import put_pinned, total_cents
from dispatch.planner.core.encode import encode
from dispatch.planner.core.shapes import Week
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Lag, Problem
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.flatten import flatten
from dispatch.planner.solve.laid import copied, laid
from dispatch.planner.solve.remove import remove
from dispatch.planner.solve.walker import Walker

A_DAY = 1440


class WhatIf:
    """One plan that keeps every rule, and what its week costs in cents."""

    def __init__(self, problem: Problem, plan: Plan, seed: int = 1) -> None:
        self.problem, self.plan, self.seed = problem, plan, seed
        self.facts, self.given = Facts(problem), encode(problem)
        self.state = laid(self.facts, plan)
        self.walker = Walker(self.given, flatten(self.state, self.given, seed), seed)
        self.cents = self.walker.now_cents
        self._other = Walker(self.given, self.walker.now, seed)

    @property
    def week(self) -> Week:
        """The plan's week as arrays."""
        return self.walker.now

    def missing(self, job: int, week: Week) -> list[int]:
        """Return the job's stages that are part of it as chosen and not in a week, earlier ones first."""
        order = self.given["order"][slice(*self.given["jobs"]["stages"][job])]
        return [int(s) for s in order if self._lacks(week, int(s))]

    def _lacks(self, week: Week, stage: int) -> bool:
        row = self.given["stages"][stage]
        here = row["variant"] < 0 or row["variant"] == week["chosen"][row["job"]]
        return bool(here and week["seen"][stage]["route"] < 0)

    @contextmanager
    def done_as(self, job: int, way: str | None) -> Iterator[None]:
        """Choose another way of doing a job for a while."""
        was = int(self.week["chosen"][job])
        if way is not None:
            ways = self.facts.jobs[job].variants
            self.week["chosen"][job] = ways.index(way)
        try:
            yield
        finally:
            self.week["chosen"][job] = was

    def added(
        self, stage: int, days: Iterable[int] = (), walker: Walker | None = None
    ) -> float | None:
        """Return the cents that placing a stage, or all its job lacks, adds; None without room.

        Where one after another finds no place, stages that must soon follow each other are tried
        together on each of `days`. `walker` is at another week.
        """
        walker = walker or self.walker
        cents = walker.added(stage)
        tied = self.tied(self.facts.job_of[stage]) if cents is None else []
        for day in days if tied else ():
            with self.only_on(tied, day):
                found = walker.added(stage)
            if found is not None and (cents is None or found < cents):
                cents = found
        return cents

    def tied(self, job: int) -> list[int]:
        """Return the job's stages that must follow another within a day, and those they follow."""
        found: set[int] = set()
        for stage in self.facts.of_job[job]:
            for other, _, most, same in self.facts.preds[stage]:
                if same or (most is not None and longest(most) <= A_DAY):
                    found |= {stage, other}
        return sorted(found)

    def without(self, stages: Iterable[int]) -> Week:
        """Return the week with these taken out where they may be, and with them what nothing needs."""
        state = copied(self.state)
        remove(state, stages)
        return flatten(state, self.given, self.seed)

    def put(self, week: Week, stages: Iterable[int]) -> int | None:
        """Put stages in, one by one, each where it costs least; return the first that finds no place."""
        for stage in stages:
            if week["seen"][stage]["route"] >= 0:
                continue
            room = self.walker.room
            room["block"][0] = stage
            if not put_pinned(self.given, week, room, 1, False):  # noqa: FBT003 - compiled
                return stage
        return None

    def waits(self, week: Week, stage: int) -> bool:
        """Whether something of the plan that the stage follows has no visit in a week."""
        return any(
            week["seen"][other]["route"] < 0 and self.state.here(other)
            for other, *_ in self.facts.preds[stage]
        )

    def trial(self, week: Week) -> Walker:
        """Return a walk at another week of this problem; the last one handed out is taken back.

        The same question has the same answer: luck begins where it began.
        """
        self._other.restart(week)
        self._other.now["dice"][0] = self.seed
        return self._other

    @contextmanager
    def only_on(self, stages: Iterable[int], day: int) -> Iterator[None]:
        """Shut the windows that these stages have on other days, for a while."""
        windows, at = self.given["windows"], self.given["window_at"]
        days = int(self.given["n_days"])
        shut = [
            w
            for stage in stages
            for other in range(days)
            if other != day
            for w in range(*at[stage * days + other : stage * days + other + 2])
        ]
        was = windows["end"][shut]
        windows["end"][shut] = windows["start"][shut]
        try:
            yield
        finally:
            windows["end"][shut] = was

    def priced(self, week: Week) -> float:
        """Return what another week costs, in cents."""
        return float(total_cents(self.given, week))


def longest(lag: Lag) -> int:
    """Return the most minutes a lag may be."""
    return lag if isinstance(lag, int) else max(minutes for *_, minutes in lag)
