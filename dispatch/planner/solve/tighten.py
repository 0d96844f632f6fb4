"""Cuts a stage's hours to those that what comes before and after it leaves, whatever else is planned.

Bounds are passed along `after` until none moves any more, as constraint programming does with time windows.
Ways of doing a job that no hours are left for lose all their windows, so the search never tries them.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from dispatch.planner.alone import windows_on
from dispatch.planner.in_turn import frozen_visits
from dispatch.planner.problem import After, Lag, Minutes, Problem, Stage

_FAR = 1 << 40
# A job and one of its variants; None binds whatever is chosen.
Way = tuple[str, str] | None


@dataclass(frozen=True, kw_only=True, slots=True)
class _Hours:
    """When a stage can be: its windows, and the minutes on site of the quickest team and of the slowest with a break."""

    windows: tuple[Minutes, ...]
    quickest: int
    slowest: int

    @property
    def first(self) -> int:
        """The first start."""
        return min((a for a, _ in self.windows), default=_FAR)

    @property
    def last(self) -> int:
        """The last start."""
        return max((b for _, b in self.windows), default=-_FAR) - self.quickest

    def within(self, since: int, until: int) -> "_Hours":
        """Return what is left of it between two minutes."""
        cut = ((max(a, since), min(b, until)) for a, b in self.windows)
        left = tuple((a, b) for a, b in cut if b - a >= self.quickest)
        return replace(self, windows=left)

    def ends(self, lag: Lag) -> Iterator[tuple[int, int, int]]:
        """Yield (first end, last end, the minutes of a lag there) for all ends it can have."""
        for a, b in self.windows:
            if isinstance(lag, int):
                yield a + self.quickest, b, lag
                continue
            for low, high, minutes in lag:
                since, until = max(a + self.quickest, low), min(b, high - 1)
                if since <= until:
                    yield since, until, minutes


def tightened(problem: Problem) -> Problem:
    """Return the problem with every stage's windows cut to what can be used of them.

    No plan that finishes what it begins loses a visit. Nor does one that leaves a job half done where
    that could pay: hours are cut for what comes later only where each stage of the job
    costs more in wages than leaving it out does. What is frozen or pinned keeps its windows.
    """
    return _Tightening(problem).run()


class _Tightening:
    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.stages = problem.stages
        self.fixed = set(frozen_visits(problem)) | {
            s.id for s in self.stages.values() if s.pinned
        }
        self.hours = dict(self._hours())
        self.then = defaultdict[str, list[tuple[Stage, After]]](list)
        for stage in self.stages.values():
            for after in stage.after:
                self.then[after.stage].append((stage, after))
        self.finished = self._finished()

    def run(self) -> Problem:
        """Pass bounds along until none moves."""
        waiting = dict.fromkeys(self.stages)
        while waiting:
            name = next(iter(waiting))
            del waiting[name]
            if name not in self.fixed and self._cut(self.stages[name]):
                waiting |= dict.fromkeys(a.stage for a in self.stages[name].after)
                waiting |= dict.fromkeys(s.id for s, _ in self.then[name])
        rows = {
            name: stage
            if name in self.fixed
            else replace(stage, windows=self.hours[name].windows)
            for name, stage in self.stages.items()
        }
        return replace(self.problem, stages=rows)

    def _cut(self, stage: Stage) -> bool:
        """Cut a stage's hours to what its neighbours leave; say whether that took any."""
        was = self.hours[stage.id]
        spans = [self._behind(stage)]
        if stage.job in self.finished and not stage.extra:
            spans.append(self._ahead(stage))
        since, until = max(a for a, _ in spans), min(b for _, b in spans)
        self.hours[stage.id] = was.within(since, until)
        return self.hours[stage.id].windows != was.windows

    def _behind(self, stage: Stage) -> Minutes:
        """Return the first start and the last end that what it follows leaves."""
        spans = list[tuple[Way, Minutes]]()
        for after in stage.after:
            other, high = self.stages[after.stage], _FAR
            hours = self.hours[other.id]
            low = min((a + m for a, _, m in hours.ends(after.min_lag)), default=_FAR)
            if after.max_lag is not None:
                ends = hours.ends(after.max_lag)
                last = max((b + m for _, b, m in ends), default=-_FAR)
                high = last + self.hours[stage.id].slowest
            spans.append((_way(stage, other), (low, high)))
        return self._both(spans)

    def _ahead(self, stage: Stage) -> Minutes:
        """Return the first start and the last end that what must follow it leaves, its job being finished."""
        spans = list[tuple[Way, Minutes]]()
        hours = self.hours[stage.id]
        for other, after in self.then[stage.id]:
            if other.job != stage.job or other.extra:
                continue
            then, since = self.hours[other.id], -_FAR
            until = max(
                (
                    min(b, then.last - m)
                    for a, b, m in hours.ends(after.min_lag)
                    if a <= then.last - m
                ),
                default=-_FAR,
            )
            if after.max_lag is not None:
                ends = hours.ends(after.max_lag)
                late = [
                    max(a, then.first - m) for a, b, m in ends if b + m >= then.first
                ]
                since = min(late, default=_FAR) - hours.slowest
            spans.append((_way(stage, other), (since, until)))
        return self._both(spans)

    def _both(self, spans: Iterable[tuple[Way, Minutes]]) -> Minutes:
        """Return the span that all leave which bind in any case, and for each job one of its ways."""
        ways = defaultdict[Way, Minutes](lambda: (-_FAR, _FAR))
        for way, (since, until) in spans:
            ways[way] = max(ways[way][0], since), min(ways[way][1], until)
        since, until = ways.pop(None, (-_FAR, _FAR))
        for job in {way[0] for way in ways if way}:
            either = [ways[job, name] for name in self.problem.jobs[job].variants]
            since = max(since, min(a for a, _ in either))
            until = min(until, max(b for _, b in either))
        return since, until

    def _hours(self) -> Iterator[tuple[str, _Hours]]:
        rest = self.problem.rest.minutes if self.problem.rest else 0
        known = frozen_visits(self.problem)
        for name, stage in self.stages.items():
            quickest = min(stage.minutes.values())
            slowest = max(stage.minutes.values()) + rest * stage.pausable
            if name in known:
                start, end = known[name]
                quickest = slowest = end - start
                windows = [(start, end)]
            elif stage.pinned:
                windows = [(stage.pinned.start, stage.pinned.start + slowest)]
            else:
                days = range(len(self.problem.days))
                cut = (w for d in days for w in windows_on(self.problem, stage, d))
                windows = [(a, b) for a, b in cut if b - a >= quickest]
            yield (
                name,
                _Hours(windows=tuple(windows), quickest=quickest, slowest=slowest),
            )

    def _finished(self) -> set[str]:
        """Return the jobs of which nothing pays unless all is done."""
        told = self.problem.standing.visits if self.problem.standing else {}
        rate = min((p.cents_per_hour for p in self.problem.people.values()), default=0)
        dear = {
            stage.job
            for stage in self.stages.values()
            if not stage.extra
            and (
                stage.id in told
                or stage.drop_cents * 60 > rate * _least_work(stage.minutes)
            )
        }
        return self.problem.jobs.keys() - dear


def _least_work(minutes: Mapping[int, int]) -> int:
    """Return the fewest person-minutes a stage takes."""
    return min(size * spent for size, spent in minutes.items())


def _way(stage: Stage, other: Stage) -> Way:
    """Return what must be chosen for the other stage to bind this one, None where it always does."""
    if other.variant is None or (other.job, other.variant) == (
        stage.job,
        stage.variant,
    ):
        return None
    return other.job, other.variant
