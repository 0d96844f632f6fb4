"""Everything a van can do on a day, laid out for pricing: pieces, teams, ground and outset."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from dispatch.planner.floor.crews import Teams
from dispatch.planner.floor.ground import (
    ancestors,
    metre_cents,
    never_after,
    shortest,
)
from dispatch.planner.floor.outset import outset
from dispatch.planner.floor.pieces import Piece, move_pieces, pieces
from dispatch.planner.floor.shapes import Bools, Ground, Ints, Outset, Starts
from dispatch.planner.floor.tows import Fetch, kinds
from dispatch.planner.problem import Problem, Stage, Van


@dataclass(frozen=True, kw_only=True)
class Squad:
    """The teams of one size of a van on a day, and what such a team may do."""

    teams: tuple[tuple[str, ...], ...]
    members: Bools
    able: Bools
    since: Ints
    until: Ints
    starts: Starts
    rows: Ints  # the numbers of the pieces in `starts`


@dataclass(frozen=True, kw_only=True)
class Slot:
    """A van on a day; `held` when it is under way and must come home."""

    van: Van
    day: int
    held: bool
    outset: Outset
    ground: Ground
    squads: tuple[Squad, ...]


class Slots:
    """All pieces and all vans' days of a problem."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.done = {
            stop["stage"]
            for row in problem.frozen
            for stop in row["stops"]
            if stop["do"] == "visit"
        }
        self.roads = shortest(problem.drive_min)
        self.metres = shortest(problem.drive_m)
        self.kinds = kinds(problem, self.roads)
        self.fetches = {f.id: f for kind in self.kinds for f in kind.fetches}
        self.number = {
            name: i for i, name in enumerate((*problem.stages, *self.fetches))
        }
        free = [s for s in problem.stages.values() if s.id not in self.done]
        self.pieces: list[Piece] = [p for s in free for p in pieces(problem, s)]
        for fetch in self.fetches.values():
            self.pieces += move_pieces(problem, fetch)
        self.teams = Teams(problem)
        self.before = ancestors(problem)
        self.never = [self._never(day) for day in range(len(problem.days))]
        self.away = self._away()
        self.slots = [s for s in self._all() if s is not None]

    def _never(self, day: int) -> Bools:
        of_day = [p for p in self.pieces if p.day == day]
        return never_after(self.problem, self.before, of_day, len(self.fetches))

    def _away(self) -> dict[int, set[str]]:
        """Return who rides in a frozen van-day, by day."""
        found: dict[int, set[str]] = {d: set() for d in range(len(self.problem.days))}
        for row in self.problem.frozen:
            found[row["day"]] |= set(row["team"])
        return found

    def _all(self) -> list[Slot | None]:
        frozen = {(row["van"], row["day"]): row for row in self.problem.frozen}
        return [
            self._slot(van, day, frozen.get((van.id, day)))
            for van in self.problem.vans.values()
            for day in range(len(self.problem.days))
        ]

    def _slot(
        self, van: Van, day: int, frozen: Mapping[str, Any] | None
    ) -> Slot | None:
        if frozen is not None and not frozen.get("open"):
            return None
        begins = outset(self.problem, van, day, frozen)
        if begins is None:
            return None
        if frozen is None:
            teams = self.teams.of(van, day, self.away[day])
        else:
            teams = [tuple(frozen["team"])]
        ground = Ground(
            self.roads, metre_cents(self.metres, van.cents_per_km), self.never[day]
        )
        return Slot(
            van=van,
            day=day,
            held=frozen is not None,
            outset=begins,
            ground=ground,
            squads=tuple(self._squads(van, day, teams)),
        )

    def _squads(
        self, van: Van, day: int, teams: Sequence[tuple[str, ...]]
    ) -> list[Squad]:
        sizes = sorted({len(team) for team in teams})
        return [
            self._squad(van, day, [t for t in teams if len(t) == size])
            for size in sizes
        ]

    def _squad(self, van: Van, day: int, teams: list[tuple[str, ...]]) -> Squad:
        size, problem = len(teams[0]), self.problem
        duties = [[problem.people[who].duty[day] for who in team] for team in teams]
        spans = [[d for d in row if d is not None] for row in duties]
        starts, rows = self._starts(van, day, size)
        return Squad(
            teams=tuple(teams),
            members=self.teams.members(teams),
            able=self.teams.able(teams, len(self.fetches)),
            since=np.array(
                [max((s for s, _ in row), default=0) for row in spans], np.int64
            ),
            until=np.array(
                [min((e for _, e in row), default=-1) for row in spans], np.int64
            ),
            starts=starts,
            rows=rows,
        )

    def _starts(self, van: Van, day: int, size: int) -> tuple[Starts, Ints]:
        chosen = [
            (i, p, minutes)
            for i, p in enumerate(self.pieces)
            if p.day == day and (minutes := self._minutes(p, van, size)) is not None
        ]
        tasks = [self.task(p) for _, p, _ in chosen]

        def column(values: list[int]) -> Ints:
            return np.array(values, np.int64)

        starts = Starts(
            stage=column([self.number[p.stage] for _, p, _ in chosen]),
            place=column([t.place for t in tasks]),
            leave=column([t.leave if isinstance(t, Fetch) else t.place for t in tasks]),
            low=column([p.low for _, p, _ in chosen]),
            high=column([p.high for _, p, _ in chosen]),
            shut=column([p.shut for _, p, _ in chosen]),
            minutes=column([minutes for _, _, minutes in chosen]),
            pausable=np.array(
                [not isinstance(t, Fetch) and t.pausable for t in tasks], np.bool_
            ),
            gain=np.zeros(len(chosen)),
        )
        return starts, column([i for i, _, _ in chosen])

    def task(self, piece: Piece) -> Stage | Fetch:
        """Return what a piece is a start of."""
        return self.fetches.get(piece.stage) or self.problem.stages[piece.stage]

    def _minutes(self, piece: Piece, van: Van, size: int) -> int | None:
        """Return a visit's minutes, None where the van or so many people cannot do it."""
        stage = self.task(piece)
        if isinstance(stage, Fetch):
            return stage.minutes if van.tows or not stage.towed else None
        minutes = self.problem.minutes_for(stage, size)
        if minutes is None or piece.low + minutes > piece.shut:
            return None
        if stage.pinned is not None and stage.pinned.van != van.id:
            return None
        fits = stage.gear <= van.gear and all(
            van.carries.get(k, 0) >= n for k, n in stage.supplies.items()
        )
        return minutes if fits else None
