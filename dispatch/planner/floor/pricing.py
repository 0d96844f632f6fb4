"""Prices outings by what the rows say a visit, a person and a minute are worth."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from dispatch.planner.floor.columns import Column, Columns, Outing
from dispatch.planner.floor.ledger import Ledger
from dispatch.planner.floor.scout import scout
from dispatch.planner.floor.shapes import MOST_STOPS, Crews, Floats, Found, Ints
from dispatch.planner.floor.slots import Slot, Squad
from dispatch.planner.floor.space import space

_NOTHING = 1e17
_MUST = 1e18
_UNDER = -1e-6
# A typical day's minutes: teams are looked at in the order of what they would cost for so long.
_TYPICAL = 300


@dataclass(frozen=True, kw_only=True, slots=True)
class Look:
    """How hard to look: outings under a share of the best; loosely; until enough are found, from a turn on."""

    share: float = 0.0
    loose: bool = False
    enough: int = 1 << 30
    turn: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Gains:
    """The worths of rows, what each piece brings by them, and what a unit of its finish brings."""

    worth: Floats
    piece: Floats
    late: Floats


class Pricing:
    """Prices all outings of a week's slots for given worths of the rows."""

    def __init__(self, week: Ledger) -> None:
        self.week, self.columns = week, Columns(week)
        slots, people = week.slots.slots, week.problem.people.values()
        self.piece, self.row = _numbers(week.sums.entries)
        self.amount = np.array([a for _, _, a in week.sums.entries], np.float64)
        self.late_piece, self.late_row = _numbers(week.sums.finishes)
        self.cents = np.array(self.columns.cents, np.float64)
        self.rate = np.array([p.cents_per_hour / 60 for p in people], np.float64)
        self.hours = np.array([week.hours[p.id] for p in people], np.int64)
        self.person = [
            np.array([week.person[p.id, day] for p in people], np.int64)
            for day in range(len(week.problem.days))
        ]
        widest = max((len(q.rows) for s in slots for q in s.squads), default=1)
        longest = max((s.outset.until - s.outset.since for s in slots), default=0)
        self.space = space(widest, len(week.slots.number), longest)

    def halt(self) -> None:
        """Have a search under way in another thread end at once, and every one after it."""
        self.space.halt[0] = 1

    def gains(self, worth: Floats) -> Gains:
        """Return what visits bring by the worths of rows."""
        size = len(self.cents)
        base = np.bincount(self.piece, self.amount * worth[self.row], size)
        late = np.bincount(self.late_piece, worth[self.late_row], size)
        return Gains(worth=worth, piece=base - self.cents, late=late.astype(np.float64))

    def price(self, slot: Slot, gains: Gains, look: Look) -> tuple[float, list[Column]]:
        """Return the least reduced cents of a slot's outings, and columns that come under nothing.

        The least is 0 at most, but for a van-day that must be.
        """
        least = _MUST if slot.held else 0.0
        columns: list[Column] = []
        for squad in slot.squads:
            found = self._found(slot, squad, gains, look)
            least = min(least, float(found.cents.min()))
            columns += self._columns(slot, squad, found)
        return (0.0 if least > _NOTHING else least), columns

    def _columns(self, slot: Slot, squad: Squad, found: Found) -> Iterator[Column]:
        for team in np.flatnonzero(found.rows[:, 0] != -1):
            rows = [int(r) for r in found.rows[team] if r >= 0]
            worked = int(found.worked[team])
            yield self.columns.column(
                Outing(slot=slot, squad=squad, team=int(team), worked=worked, rows=rows)
            )

    def _found(self, slot: Slot, squad: Squad, gains: Gains, look: Look) -> Found:
        starts, n, late = squad.starts, len(squad.teams), self.columns.late[id(squad)]
        starts.gain[:] = gains.piece[squad.rows] - late * gains.late[squad.rows]
        crews = self._crews(slot, squad, gains.worth)
        order = np.argsort(crews.cents + _TYPICAL * crews.wage, kind="stable")
        found = Found(
            cents=np.zeros(n),
            worked=np.zeros(n, np.int64),
            tried=np.zeros(n, np.int64),
            rows=np.zeros((n, MOST_STOPS + 1), np.int64),
        )
        scout(
            self.space,
            starts,
            slot.ground,
            slot.outset,
            crews,
            np.roll(order, look.turn) if look.enough < n else order,
            _MUST if slot.held else _UNDER,
            1.0 if slot.held else look.share,
            look.loose,
            look.enough,
            found,
        )
        return found

    def _crews(self, slot: Slot, squad: Squad, worth: Floats) -> Crews:
        wage = squad.members @ (self.rate - worth[self.hours] / 60)
        cents = np.full(len(squad.teams), float(slot.van.cents_per_day))
        cents -= worth[self.week.van[slot.van.id, slot.day]]
        if not slot.held:
            cents -= squad.members @ worth[self.person[slot.day]]
        return Crews(wage, cents, squad.since, squad.until, squad.able)


def _numbers(
    entries: Sequence[tuple[int, int] | tuple[int, int, float]],
) -> tuple[Ints, Ints]:
    return (
        np.array([e[0] for e in entries], np.int64),
        np.array([e[1] for e in entries], np.int64),
    )
