"""Outings as columns of the week's programme, found by pricing or read from a plan."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dispatch.planner.floor.finish import piece_units
from dispatch.planner.floor.ledger import Ledger
from dispatch.planner.floor.shapes import Floats
from dispatch.planner.floor.slots import Slot, Squad
from dispatch.planner.plan import Tow, VanDay, Visit


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """An outing for the programme: its cents and its entries by row."""

    cents: float
    entries: tuple[tuple[int, float], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Outing:
    """A team of a squad, the minutes it works, and rows of the squad's starts in order."""

    slot: Slot
    squad: Squad
    team: int
    worked: int
    rows: Sequence[int]


class Columns:
    """Writes outings as columns."""

    def __init__(self, week: Ledger) -> None:
        self.week = week
        self.cents = [p.cents for p in week.slots.pieces]
        self.rows_of: list[list[tuple[int, float]]] = [[] for _ in self.cents]
        for piece, row, amount in week.sums.entries:
            self.rows_of[piece].append((row, amount))
        self.finishes_of: list[list[int]] = [[] for _ in self.cents]
        for piece, row in week.sums.finishes:
            self.finishes_of[piece].append(row)
        self.late = {
            id(squad): self._late(squad)
            for slot in week.slots.slots
            for squad in slot.squads
        }

    def _late(self, squad: Squad) -> Floats:
        """Return what each start's finish comes to, in its job's unit."""
        rows = zip(squad.rows, squad.starts.minutes, strict=True)
        return np.array(
            [piece_units(self.week, int(i), int(m)) for i, m in rows], np.float64
        )

    def column(self, outing: Outing) -> Column:
        """Return an outing's cents and entries."""
        slot, squad = outing.slot, outing.squad
        entries: dict[int, float] = {self.week.van[slot.van.id, slot.day]: 1.0}
        cents = slot.van.cents_per_day + self._metres(outing)
        for who in squad.teams[outing.team]:
            rate = self.week.problem.people[who].cents_per_hour / 60
            cents += outing.worked * rate
            if not slot.held:
                entries[self.week.person[who, slot.day]] = 1.0
            entries[self.week.hours[who]] = outing.worked / 60
        for r in outing.rows:
            piece = int(squad.rows[r])
            cents += self.cents[piece]
            for row, amount in self.rows_of[piece]:
                entries[row] = entries.get(row, 0.0) + amount
            for row in self.finishes_of[piece]:
                late = float(self.late[id(squad)][r])
                entries[row] = entries.get(row, 0.0) - late
        return Column(cents=cents, entries=tuple(sorted(entries.items())))

    def _metres(self, outing: Outing) -> float:
        """Return the cents of the way through an outing's places."""
        slot, starts = outing.slot, outing.squad.starts
        at, total = slot.outset.place, 0.0
        for r in outing.rows:
            place, leave = int(starts.place[r]), int(starts.leave[r])
            total += float(slot.ground.cents[at, place])
            if place != leave:
                total += float(slot.ground.cents[place, leave])
            at = leave
        return total + float(slot.ground.cents[at, slot.outset.home])

    def of(self, van_day: VanDay) -> Column | None:
        """Return a plan's van-day as a column; None where it is frozen or not of this week."""
        for slot in self.week.slots.slots:
            if (slot.van.id, slot.day) == (van_day.van, van_day.day) and not slot.held:
                for squad in slot.squads:
                    members = [set(team) for team in squad.teams]
                    if set(van_day.team) in members:
                        return self._read(
                            van_day, slot, squad, members.index(set(van_day.team))
                        )
        return None

    def _read(self, van_day: VanDay, slot: Slot, squad: Squad, team: int) -> Column:
        rest = van_day.rest or (0, 0)
        worked = van_day.back - van_day.depart - (rest[1] - rest[0])
        rows = [self._row(squad, stop) for stop in van_day.stops]
        return self.column(
            Outing(
                slot=slot,
                squad=squad,
                team=team,
                worked=worked,
                rows=[r for r in rows if r is not None],
            )
        )

    def _row(self, squad: Squad, stop: Visit | Tow) -> int | None:
        """Return the row that a stop starts in."""
        problem, starts = self.week.problem, squad.starts
        if isinstance(stop, Visit):
            name, start = stop.stage, stop.start
        else:
            kind = problem.trailers[stop.trailer].kind
            ends = [problem.places.index(p) for p in (stop.origin, stop.to)]
            name, start = f"move {kind} {ends[0]} {ends[1]}", stop.start
        number = self.week.slots.number.get(name, -1)
        for r in np.flatnonzero(starts.stage == number):
            if starts.low[r] <= start <= starts.high[r]:
                return int(r)
        return None
