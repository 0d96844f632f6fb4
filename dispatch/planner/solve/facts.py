"""The problem compiled to indexes and look-ups for the search; nothing here changes."""

from collections import defaultdict
from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from dispatch.planner.problem import Lag, Problem, Stage
from dispatch.planner.solve.spans import (
    Starts,
    clip,
    join,
    minus,
)


class Timed(NamedTuple):
    """A timed van-day."""

    times: tuple[tuple[int, int], ...]
    depart: int
    back: int
    rest: tuple[int, int] | None


Link = tuple[int, Lag, Lag | None, bool]


class Facts:
    """Stages, jobs, vans, people and trailers by number, in the problem's order."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.stages: list[Stage] = list(problem.stages.values())
        self.vans = list(problem.vans.values())
        self.people = list(problem.people.values())
        self.trailers = list(problem.trailers.values())
        self.jobs = list(problem.jobs.values())
        self.number = {s.id: i for i, s in enumerate(self.stages)}
        self.van_number = {v.id: i for i, v in enumerate(self.vans)}
        self.person_number = {p.id: i for i, p in enumerate(self.people)}
        self.trailer_number = {t.id: i for i, t in enumerate(self.trailers)}
        jobs = {j.id: i for i, j in enumerate(self.jobs)}
        self.job_of = [jobs[s.job] for s in self.stages]
        self.of_job: list[list[int]] = [[] for _ in self.jobs]
        for i, job in enumerate(self.job_of):
            self.of_job[job].append(i)
        self.timings: dict[object, tuple[Timed, ...]] = {}
        self._link()
        self._people()
        self._sizes()
        self._frozen()
        self.starts = cache(self._starts)
        self.calm = cache(self._calm)

    def _sizes(self) -> None:
        seats = max((v.seats for v in self.vans), default=0)
        self.minutes = [
            [self.problem.minutes_for(s, k) for k in range(seats + 1)]
            for s in self.stages
        ]
        self.told: dict[int, int] = {}
        if self.problem.standing:
            visits = self.problem.standing.visits
            self.told = {self.number[k]: v for k, v in visits.items()}

    def _frozen(self) -> None:
        self.open: set[tuple[int, int]] = set()
        self.taken: dict[tuple[int, int], tuple[int, int]] = {}
        for row in self.problem.frozen:
            key = (self.van_number[row["van"]], row["day"])
            if row.get("open"):
                self.open.add(key)
                if row["break"] is not None:
                    self.taken[key] = (row["break"][0], row["break"][1])

    def _link(self) -> None:
        self.preds: list[list[Link]] = [[] for _ in self.stages]
        self.succs: list[list[Link]] = [[] for _ in self.stages]
        for i, stage in enumerate(self.stages):
            for a in stage.after:
                other = self.number[a.stage]
                self.preds[i].append((other, a.min_lag, a.max_lag, a.same_van_day))
                self.succs[other].append((i, a.min_lag, a.max_lag, a.same_van_day))
        boats = defaultdict(list)
        self.boat_of = [self.jobs[job].boat for job in self.job_of]
        for i, boat in enumerate(self.boat_of):
            boats[boat].append(i)
        self.mates = [
            [m for m in boats[boat] if m != i] for i, boat in enumerate(self.boat_of)
        ]

    def _people(self) -> None:
        apart: dict[int, int] = defaultdict(int)
        for a, b in self.problem.apart:
            x, y = self.person_number[a], self.person_number[b]
            apart[x] |= 1 << y
            apart[y] |= 1 << x
        self.apart = apart
        self.drivers = mask(i for i, p in enumerate(self.people) if p.driver)
        able = cache(self._able)
        self.needs = [
            tuple((able(n.skill, n.level), n.count) for n in s.needs if n.count > 0)
            for s in self.stages
        ]
        self.barred = [
            mask(self.person_number[b] for b in s.barred) for s in self.stages
        ]

    def _able(self, skill: str, level: int) -> int:
        able = (i for i, p in enumerate(self.people) if p.skills.get(skill, 0) >= level)
        return mask(able)

    def _starts(self, stage: int, day: int, minutes: int) -> Starts:
        """Starts on that day that lie, with their end, in one window (pins and all)."""
        s, (first, last) = self.stages[stage], self.problem.days[day]
        rows = [(max(a, first), min(b, last) - minutes) for a, b in s.windows]
        if s.pinned is not None:
            at = s.pinned.start
            rows = [(at, at) for a, b in rows if a <= at <= b][:1]
        return join((a, b) for a, b in rows if a <= b)

    def _calm(self, stage: int, day: int, minutes: int) -> Starts:
        """Return the starts with no risk, as near as may be to what people were told."""
        starts = self.starts(stage, day, minutes)
        calm = starts
        for a, b, cents in self.stages[stage].risk:
            calm = minus(calm, a, b - 1) if cents else calm
        starts = calm or starts
        told, standing = self.told.get(stage), self.problem.standing
        if told is not None and standing is not None:
            near = standing.tolerance_min
            starts = clip(starts, told - near, told + near) or starts
        return starts


def mask(numbers: Iterable[int]) -> int:
    """Return the bits of those numbers."""
    return sum(1 << i for i in set(numbers))
