"""The search as a whole: starts, walks until told to stop, hands over judged plans only."""

import math
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import repeat

import numpy as np

from dispatch.planner.core.encode import encode
from dispatch.planner.core.price import total_cents
from dispatch.planner.core.shapes import Week
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.pool import Pool
from dispatch.planner.solve.recombine import Terms, recombine
from dispatch.planner.solve.start import Start, starting_weeks
from dispatch.planner.solve.walker import Walker

# The shares of the effort after which the van-days seen so far are recombined, and how hard.
_RECOMBINE_AT = (0.5, 0.85)
_RECOMBINE_WORK = 6.0
_MOST_COLUMNS = 1200
# A walk starts at the worth of a typical stage, times this, and ends so much colder;
# one that starts from what people were told starts colder still.
_HEAT = 1.0
_COLDER = 1 / 300
_TOLD = 0.1
# Seconds between looks at the clock, and steps when only steps count.
_PAUSE = 0.05
_STRIDE = 100
_SPREAD = 1_000_003

Accept = Callable[[Plan], bool]


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """When to stop: after `steps` (None: no limit), or when `done` says 1; how many walk at once."""

    seed: int
    steps: int | None
    done: Callable[[], float]
    workers: int = 1


class Search:
    """Looks for a cheap week; `accept` judges each better plan and may refuse it."""

    def __init__(self, problem: Problem, limits: Limits, accept: Accept) -> None:
        self.problem, self.limits, self.accept = problem, limits, accept
        self.facts = Facts(problem)
        self.given = encode(problem)
        self.best: Week | None = None
        self._least = math.inf
        self.walkers: list[Walker] = []
        self.steps, self._stride = 0, _STRIDE if limits.steps is not None else 5
        self.pool = Pool(_MOST_COLUMNS)

    def run(self, start: Start) -> None:
        """Search from the frozen and pinned week until the limits say stop."""
        seed, workers = self.limits.seed, max(1, self.limits.workers)
        weeks = starting_weeks(self.facts, self.given, start, seed)
        self.best = next((w for w in weeks if self._accepted(w)), None)
        if self.best is None:
            return
        heat = self._heat()
        if self.problem.standing or start.van_days:
            heat *= _TOLD
        self.walkers = [
            Walker(self.given, self.best, seed + i * _SPREAD) for i in range(workers)
        ]
        with ThreadPoolExecutor(workers) as threads:
            for share in _RECOMBINE_AT:
                self._walk(threads, share, heat)
                self._recombine()
            self._walk(threads, 1, heat)

    def _heat(self) -> float:
        """Return the cents that a typical stage is worth, times the heat's share."""
        jobs = self.given["jobs"][: int(self.given["n_jobs"])]
        counts = jobs["stages"][:, 1] - jobs["stages"][:, 0]
        worth = jobs["unfinished"] / np.maximum(1, counts)
        return _HEAT * float(np.median(worth)) if len(worth) else 0.0

    def _walk(self, threads: ThreadPoolExecutor, until: float, heat: float) -> None:
        while (progress := self._progress()) < until:
            began = time.monotonic()
            now = heat * _COLDER**progress
            stride = self._next_stride()
            list(threads.map(Walker.steps, self.walkers, repeat(stride), repeat(now)))
            self.steps += stride
            self._gather()
            if self.limits.steps is None:
                taken = max(1e-4, time.monotonic() - began)
                self._stride = max(1, int(stride * min(4.0, _PAUSE / taken)))

    def _next_stride(self) -> int:
        if self.limits.steps is None:
            return self._stride
        return max(1, min(_STRIDE, self.limits.steps - self.steps))

    def _gather(self) -> None:
        """Take what the walkers found: their weeks into the pool, a better best to the judge."""
        for walker in self.walkers:
            self.pool.add(to_plan(self.problem, walker.now), walker.now_cents)
        walker = min(self.walkers, key=lambda w: w.least)
        if walker.least >= self._least - 1e-6:
            return
        if self._accepted(walker.best):
            self.best = walker.best.copy()
        elif self.best is not None:
            walker.forget(self.best)

    def _accepted(self, week: Week) -> bool:
        """Have a week judged as a plan."""
        if not self.accept(to_plan(self.problem, week)):
            return False
        self._least = float(total_cents(self.given, week))
        return True

    def _recombine(self) -> None:
        """Have CP-SAT pick the cheapest week out of every van-day seen; the worst walk goes on from it."""
        if self.best is None or self._progress() >= 1:
            return
        terms = Terms(
            work=_RECOMBINE_WORK,
            seed=self.limits.seed,
            accept=self.accept,
            stop=lambda: self.limits.done() >= 1,
        )
        plan = to_plan(self.problem, self.best)
        found = recombine(self.problem, self.pool, plan, terms)
        if found is None:
            return
        start = Start(van_days=found.van_days, chosen=found.chosen)
        week = starting_weeks(self.facts, self.given, start, self.limits.seed)[0]
        max(self.walkers, key=lambda w: w.least).restart(week)
        self._gather()

    def _progress(self) -> float:
        along = self.limits.done()
        if self.limits.steps is not None:
            along = max(along, self.steps / max(1, self.limits.steps))
        return along

    def cents_to_add(self, enough: Callable[[], bool]) -> dict[str, float | None]:
        """For each stage left out: what placing it would add, None where no room was found.

        A stage its job cannot do without is priced with the whole rest of its job.
        """
        found: dict[str, float | None] = {}
        if self.best is None:
            return found
        walker = Walker(self.given, self.best, self.limits.seed)
        for i, stage in enumerate(self.problem.stages.values()):
            if self.best["seen"][i]["route"] >= 0 or not self._here(i):
                continue
            found[stage.id] = None if enough() else walker.added(i)
        return found

    def _here(self, stage: int) -> bool:
        """Whether a stage is part of its job as chosen."""
        row = self.given["stages"][stage]
        chosen = self.best["chosen"][row["job"]] if self.best is not None else -1
        return bool(row["variant"] < 0 or row["variant"] == chosen)
