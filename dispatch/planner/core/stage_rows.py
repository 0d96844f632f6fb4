"""Gathers each stage's row and the tables it points into."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from dispatch.planner.core import shapes
from dispatch.planner.problem import InvalidProblem, Lag, Problem, Stage


class TooLarge(InvalidProblem):
    """The problem has more of something than the search's arrays hold; the text names it."""


class Names:
    """Who has which number: stages, jobs, boats, people, vans, trailers, skills, supplies, kinds."""

    def __init__(self, problem: Problem) -> None:
        self.stages = _numbers(problem.stages)
        self.jobs = _numbers(problem.jobs)
        self.people = _numbers(problem.people)
        self.vans = _numbers(problem.vans)
        self.trailers = _numbers(problem.trailers)
        self.boats = _numbers(j.boat for j in problem.jobs.values())
        self.kinds = _numbers(t.kind for t in problem.trailers.values())
        for stage in problem.stages.values():
            for stay in stage.trailers:
                self.kinds.setdefault(stay.kind, len(self.kinds))
        self.skills = _numbers(
            n.skill for s in problem.stages.values() for n in s.needs
        )
        self.supplies = _numbers(k for s in problem.stages.values() for k in s.supplies)
        fit("days", len(problem.days), shapes.DAYS)
        fit("skills", len(self.skills), shapes.SKILLS)
        fit("kinds of supply", len(self.supplies), shapes.SUPPLIES)


def _numbers(names: Iterable[str]) -> dict[str, int]:
    return {name: i for i, name in enumerate(dict.fromkeys(names))}


def fit(what: str, count: int, most: int) -> None:
    """Raise TooLarge when there are more of something than the record holds."""
    if count > most:
        raise TooLarge(
            f"The search takes at most {most} {what}; this week has {count}."
        )


class Lags:
    """Each different lag once."""

    def __init__(self) -> None:
        self.rows: list[tuple[Any, ...]] = []
        self.steps: list[tuple[int, int, int]] = []
        self._known: dict[Lag, int] = {}

    def number(self, lag: Lag | None) -> int:
        """Return the number of a lag, -1 for none."""
        if lag is None:
            return -1
        if lag not in self._known:
            self._known[lag] = len(self.rows)
            self._write(lag)
        return self._known[lag]

    def _write(self, lag: Lag) -> None:
        if isinstance(lag, int):
            self.rows.append((lag, (0, 0)))
            return
        first = len(self.steps)
        self.steps += sorted(lag)
        self.rows.append((-1, (first, len(self.steps))))


class StageRows:
    """Gathers the tables that stages point into."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.names, self.lags = problem, Names(problem), Lags()
        self.needs: list[tuple[int, int, int]] = []
        self.before: list[tuple[int, int, int, int]] = []
        self.then: list[tuple[int, int, int, int]] = []
        self.mates: list[int] = []
        self.stays: list[tuple[int, int]] = []
        self.risks: list[tuple[int, int, float]] = []
        self.all = list(problem.stages.values())
        self.boats = defaultdict[int, list[int]](list)
        self.after = defaultdict[int, list[tuple[int, int, int, int]]](list)
        for i, stage in enumerate(self.all):
            self.boats[self.boat(stage)].append(i)
            for a in stage.after:
                link = (i, *self._bounds(a.min_lag, a.max_lag), int(a.same_van_day))
                self.after[self.names.stages[a.stage]].append(link)
        self.blocks = self._blocks()

    def boat(self, stage: Stage) -> int:
        """Return the number of a stage's boat."""
        return self.names.boats[self.problem.jobs[stage.job].boat]

    def _bounds(self, low: Lag, high: Lag | None) -> tuple[int, int]:
        return self.lags.number(low), self.lags.number(high)

    def _blocks(self) -> list[int]:
        """For each stage, the first of those that must share its van-day."""
        first, moved = list(range(len(self.all))), True
        pairs = [
            (i, self.names.stages[a.stage])
            for i, stage in enumerate(self.all)
            for a in stage.after
            if a.same_van_day
        ]
        while moved:
            moved = False
            for i, other in pairs:
                least = min(first[i], first[other])
                moved = moved or first[i] != first[other]
                first[i] = first[other] = least
        return first

    def stage(self, i: int, stage: Stage) -> tuple[Any, ...]:
        """Return the row of a stage, what it points to written before it."""
        spans = [self._needs(stage), self._before(stage), self._then(i)]
        spans += [self._mates(i, stage), self._stays(stage), self._risks(stage)]
        job = self.problem.jobs[stage.job]
        variant = -1 if stage.variant is None else job.variants.index(stage.variant)
        told = (
            self.problem.standing.visits.get(stage.id, -1)
            if self.problem.standing
            else -1
        )
        day = self.problem.day_of(told) if told >= 0 else None
        return (
            self.names.jobs[stage.job],
            stage.place,
            variant,
            int(stage.extra),
            self.boat(stage),
            int(stage.pausable),
            self.lags.number(stage.hold_min),
            float(stage.drop_cents),
            stage.pinned.start if stage.pinned else -1,
            told,
            -1 if day is None else day,
            min(stage.minutes.values()),
            self.blocks[i],
            0,
            *(0, 0),  # what it needs as bits, once all needs are known
            int(bool(stage.barred)),
            *spans,
            tuple(self._minutes(stage, k) for k in range(shapes.SEATS + 1)),
            amounts(self.names.supplies, stage.supplies),
        )

    def _minutes(self, stage: Stage, size: int) -> int:
        minutes = self.problem.minutes_for(stage, size)
        return -1 if minutes is None else minutes

    def _needs(self, stage: Stage) -> tuple[int, int]:
        rows = [(self.names.skills[n.skill], n.level, n.count) for n in stage.needs]
        return _append(self.needs, rows)

    def _before(self, stage: Stage) -> tuple[int, int]:
        rows = [
            (
                self.names.stages[a.stage],
                *self._bounds(a.min_lag, a.max_lag),
                int(a.same_van_day),
            )
            for a in stage.after
        ]
        return _append(self.before, rows)

    def _then(self, i: int) -> tuple[int, int]:
        return _append(self.then, self.after[i])

    def _mates(self, i: int, stage: Stage) -> tuple[int, int]:
        return _append(self.mates, [m for m in self.boats[self.boat(stage)] if m != i])

    def _stays(self, stage: Stage) -> tuple[int, int]:
        fit("trailers for one stage", len(stage.trailers), shapes.STANDS)
        rows = [
            (self.names.kinds[t.kind], self.lags.number(t.stays_min))
            for t in stage.trailers
        ]
        return _append(self.stays, rows)

    def _risks(self, stage: Stage) -> tuple[int, int]:
        return _append(self.risks, [(a, b, float(c)) for a, b, c in stage.risk])


def _append(table: list[Any], rows: Sequence[Any]) -> tuple[int, int]:
    first = len(table)
    table += rows
    return first, len(table)


def amounts(numbers: Mapping[str, int], amounts: Mapping[str, int]) -> tuple[int, ...]:
    """Return the amounts by number of supply."""
    row = [0] * shapes.SUPPLIES
    for name, amount in amounts.items():
        if name in numbers:
            row[numbers[name]] = amount
    return tuple(row)
