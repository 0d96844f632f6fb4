"""The search as a whole: starts, walks until told to stop, hands over judged plans only."""

import math
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass
from operator import itemgetter

from dispatch.planner.core.calls import total_cents
from dispatch.planner.core.encode import encode
from dispatch.planner.core.price import BROKEN
from dispatch.planner.core.shapes import Week
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem
from dispatch.planner.solve.course import Course, course
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.pool import Pool
from dispatch.planner.solve.recombine import Terms, recombine
from dispatch.planner.solve.shares import Shares, is_large
from dispatch.planner.solve.start import Start, shuffled, starting_weeks
from dispatch.planner.solve.tighten import tightened
from dispatch.planner.solve.walker import Walker

# The share of the effort after which the van-days seen so far are recombined, and how hard:
# CP-SAT's deterministic seconds, when only steps count and for each second when time does.
_RECOMBINE_AT = 0.8
_RECOMBINE_WORK = 2.0
_WORK_A_SECOND, _MOST_WORK = 0.15, 6.0
_WALL = 3.0  # and seconds by the clock for each of those at most
_MOST_COLUMNS = 1200
_HURRY_S = 2.0  # efforts shorter than this would end before CP-SAT is loaded
# Seconds that walks go on between looks at what they found, and between looks at the clock;
# steps between looks when only steps count.
_ROUND = 0.1
_LOOK = 0.02
_STRIDE = 100
_FAR = 1 << 40
# How often a walk begins anew, its pins in another order, where nothing that is pinned is kept, how warm, and for how long at most.
_INSISTS, _INSISTING, _INSIST_S = 200, 0.4, 6.0
_SPREAD = 1_000_003
_READS = 8  # what was found is read at most once in so many times the time that takes
_PENNY = 1e-6  # weeks nearer than this cost the same

Accept = Callable[[Plan], bool]


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """When to stop: after `steps` (None: no limit), or when `done` says 1; how many walk at once."""

    seed: int
    steps: int | None
    done: Callable[[], float]
    workers: int = 1
    seconds: float = 0.0


class Search:
    """Looks for a cheap week; `accept` judges each better plan and may refuse it."""

    def __init__(self, problem: Problem, limits: Limits, accept: Accept) -> None:
        self.problem, self.limits, self.accept = problem, limits, accept
        usable = tightened(problem)
        self.facts = Facts(usable)
        self.given = encode(usable)
        self.best: Week | None = None
        self._least = math.inf
        self.walkers: list[Walker] = []
        self.steps = 0
        self.pool = Pool(_MOST_COLUMNS)
        self._seen: list[tuple[Week, float]] = []
        self._refused = False
        self._busy_until = 0.0
        self.shares: Shares | None = None
        self.course: Course

    def run(self, start: Start) -> None:
        """Search from the frozen and pinned week until the limits say stop."""
        seed, workers = self.limits.seed, max(1, self.limits.workers)
        weeks = starting_weeks(self.facts, self.given, start, seed)
        self.best = next((w for w in weeks if self._accepted(w)), None)
        first = weeks[0] if self.best is None else self.best
        if self.best is None and total_cents(self.given, first) < BROKEN:
            return
        self.walkers = [
            Walker(self.given, first, seed + i * _SPREAD) for i in range(workers)
        ]
        told = bool(self.problem.standing or start.van_days)
        self.bare = weeks[-1]
        self.course = course(self.problem, self.walkers, self.bare, seed, told=told)
        with ThreadPoolExecutor(workers + 1) as threads:
            self._walk(threads, self._typical(first))
        if self.best is None:
            self._insist(self._typical(first))

    def _walk(self, threads: ThreadPoolExecutor, typical: float) -> None:
        """Walk in rounds; what one found is judged, and what was seen recombined, while the next goes on."""
        mixed, waiting = None, True
        self.shares = self._shares()
        while (along := self._progress()) < 1:
            if self.course.over(along, self.steps):
                self._attend()
                self.course.turn(self.best, along, self.steps)
            heat = self.course.heat(along, self.steps)
            walking = self._set_off(threads, typical * heat)
            if self._has_leisure():
                self._attend()
            if waiting and along >= _RECOMBINE_AT:
                mixed, waiting = self._recombine(threads), False
            self._bring_in(walking)
            if mixed is not None and (mixed.done() or self.limits.steps is not None):
                self._take_over(mixed.result())
                mixed = None
        if mixed is not None:
            self._take_over(mixed.result())
        self._attend()

    def _set_off(self, threads: Executor, heat: float) -> list[Future[int]]:
        """Begin a round of every walk."""
        if self.shares is not None:
            self.shares.deal()
        stride = self._stride()
        return [threads.submit(w.steps, stride, heat) for w in self.walkers]

    def _bring_in(self, walking: Sequence[Future[int]]) -> None:
        """Wait for the end of a round, and look at what it came to."""
        self._await(walking)
        if self.shares is not None:
            self.shares.join()
        self._look()

    def _shares(self) -> Shares | None:
        """Return how a large week is divided among the walks, None for one that each sees whole."""
        if not is_large(self.given):
            return None
        return Shares(self.given, self.walkers, self.limits.seed)

    def _insist(self, typical: float) -> None:
        """Walk on where no week keeps its pins yet: a problem that has a plan is not refused for want of time."""
        walker, until = self.walkers[0], time.monotonic() + _INSIST_S
        for turn in range(_INSISTS):
            walker.steps(_STRIDE, typical * _INSISTING)
            self._look()
            self._attend()
            late = self.limits.steps is None and time.monotonic() >= until
            if late or self.best is not None:
                return
            walker.forget(shuffled(self.facts, self.given, self.limits.seed + 1 + turn))
            walker.fill()

    def _stride(self) -> int:
        """Return how many steps a walk may take before it looks up."""
        if self.limits.steps is None:
            return _FAR
        return max(1, min(_STRIDE, self.limits.steps - self.steps))

    def _await(self, walking: Sequence[Future[int]]) -> None:
        """Wait for the walks: for a while, for their steps, or until told to stop."""
        until = time.monotonic() + _ROUND
        while wait(walking, _LOOK).not_done:
            late = self.limits.steps is None and time.monotonic() >= until
            if late or self.limits.done() >= 1:
                break
        for walker in self.walkers:
            walker.halt()
        self.steps += min(walk.result() for walk in walking)
        for walker in self.walkers:
            walker.go_on()

    def _look(self) -> None:
        """Note where the walks are, and the best week when it is a better one; undo what the judge refused."""
        if self._refused and self.best is not None and not self.course.out:
            for walker in self.walkers:
                if walker.least < self._least - _PENNY:
                    walker.forget(self.best)
        self._refused = False
        unread = [row for row in self._seen if row[1] < self._least - _PENNY]
        self._seen = [min(unread, key=itemgetter(1))] if unread else []
        if self.course.out:
            weeks = [w.now.copy() for w in self.walkers]
            self._seen += [(w, float(total_cents(self.given, w))) for w in weeks]
            return
        self._seen += [(w.now.copy(), w.now_cents) for w in self.walkers]
        least = min(self.walkers, key=lambda w: w.least)
        if least.least < min(self._least, BROKEN) - _PENNY:
            self._seen.append((least.best.copy(), least.least))

    def _attend(self) -> None:
        """Take what the walks found: a better best to the judge, their weeks into the pool.

        Weeks that do not keep their pins yet are walked on from, and not handed over.
        """
        began = time.monotonic()
        for week, cents in sorted(self._seen, key=itemgetter(1)):
            if cents >= BROKEN:
                break
            if cents < self._least - _PENNY:
                if not self._accepted(week):
                    self._refused = True
                    continue
                self.best = week
            self.pool.add(to_plan(self.problem, week), cents)
        self._seen = []
        took = time.monotonic() - began
        self._busy_until = began + took * _READS

    def _has_leisure(self) -> bool:
        """Whether what was found may be read: reading takes time from the walks, so it has its share only."""
        return self.limits.steps is not None or time.monotonic() >= self._busy_until

    def _typical(self, week: Week) -> float:
        """Return the cents that a typical stage costs in the first week."""
        cents = float(total_cents(self.given, week)) % BROKEN
        return cents / max(1, len(self.problem.stages))

    def _accepted(self, week: Week) -> bool:
        """Have a week judged as a plan."""
        if not self.accept(to_plan(self.problem, week)):
            return False
        self._least = float(total_cents(self.given, week))
        return True

    def _recombine(self, threads: ThreadPoolExecutor) -> Future[Plan | None] | None:
        """Have CP-SAT pick the cheapest week out of every van-day seen, while the walks go on."""
        hurried = self.limits.steps is None and self.limits.seconds < _HURRY_S
        if self.best is None or hurried:
            return None
        best, work = to_plan(self.problem, self.best), self._work()
        terms = Terms(
            work=work,
            # How busy the machine is must not change where so many steps lead.
            seconds=_WALL * work if self.limits.steps is None else math.inf,
            seed=self.limits.seed,
            accept=self.accept,
            stop=lambda: self.limits.done() >= 1,
        )
        columns = self.pool.columns(best.van_days)
        return threads.submit(recombine, self.problem, columns, best, terms)

    def _work(self) -> float:
        if self.limits.steps is not None:
            return _RECOMBINE_WORK
        return min(_MOST_WORK, _WORK_A_SECOND * self.limits.seconds)

    def _take_over(self, found: Plan | None) -> None:
        """Let the worst walk go on from a recombined week."""
        if found is None:
            return
        start = Start(van_days=found.van_days, chosen=found.chosen)
        week = starting_weeks(self.facts, self.given, start, self.limits.seed)[0]
        self._seen.append((week, float(total_cents(self.given, week))))
        if not self.course.out:
            max(self.walkers, key=lambda w: w.least).restart(week)

    def _progress(self) -> float:
        along = self.limits.done()
        if self.limits.steps is None or along >= 1:
            return along
        # How long the steps took must not change where they lead.
        return self.steps / max(1, self.limits.steps)

    def cents_to_add(
        self, ways: Mapping[str, str], enough: Callable[[], bool]
    ) -> dict[str, float | None]:
        """For each stage left out: what placing it would add, None where no room was found.

        A stage its job cannot do without is priced with the whole rest of its job. `ways` are the
        variants of jobs left out that count instead of those the search ended with.
        """
        found: dict[str, float | None] = {}
        if self.best is None:
            return found
        week = self.best.copy()
        for j, job in enumerate(self.problem.jobs.values()):
            if job.id in ways:
                week["chosen"][j] = job.variants.index(ways[job.id])
        walker = Walker(self.given, week, self.limits.seed)
        for i, stage in enumerate(self.problem.stages.values()):
            row = self.given["stages"][i]
            here = row["variant"] in (-1, week["chosen"][row["job"]])
            if week["seen"][i]["route"] < 0 and here:
                found[stage.id] = None if enough() else walker.added(i)
        return found
