"""Where trailers stand from day to day: rows that have one fetched before a stage needs it."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from dispatch.planner.floor.tows import Fetch, Kind, frozen_moves

if TYPE_CHECKING:
    from collections.abc import Iterator

    from dispatch.planner.floor.ledger import Ledger
    from dispatch.planner.problem import Stage


def add(week: Ledger, kind: Kind) -> None:
    """Add that a kind is there when a stage needs it and, of an only trailer, that it leaves from where it is."""
    for stage in week.problem.stages.values():
        if any(n.kind == kind.name for n in stage.trailers):
            for day in _days(week, stage):
                _there(week, kind, stage, day)
    if len(kind.trailers) == 1:
        days = range(len(week.problem.days))
        for node, day in product((*kind.nodes, None), days):
            _leaves(week, kind, node, day)
        for fetch, day in product(kind.fetches, days):
            _again(week, fetch, day)


def _days(week: Ledger, stage: Stage) -> list[int]:
    return sorted({week.slots.pieces[i].day for i in week.of_stage[stage.id]})


def _there(week: Ledger, kind: Kind, stage: Stage, day: int) -> None:
    """Visits up to a day are no more than moves to the place, and what stands there anyway."""
    high = sum(t.place == stage.place for t in kind.trailers)
    high += sum(to == stage.place for _, to in _frozen(week, kind, day))
    if high > 0:
        return
    row = week.sums.row(float("-inf"), 0.0)
    pieces = week.slots.pieces
    mine = [i for i in week.of_stage[stage.id] if pieces[i].day <= day]
    week.sums.entries += [(i, row, 1.0) for i in mine]
    for fetch in kind.fetches:
        if fetch.to == stage.place:
            _count(week, fetch, day, row, -1.0)


def _leaves(week: Ledger, kind: Kind, node: int | None, day: int) -> None:
    """Moves away from a node up to a day are no more than those to it, and what stood there."""
    high = sum(t.place == node for t in kind.trailers)
    for origin, to in _frozen(week, kind, day):
        high += (to == node) - (origin == node)
    row = week.sums.row(float("-inf"), float(high))
    week.leaves[kind.name, node, day] = row
    for fetch in kind.fetches:
        if node in (fetch.origin, fetch.to):
            _count(week, fetch, day, row, 1.0 if fetch.origin == node else -1.0)


def _again(week: Ledger, fetch: Fetch, day: int) -> None:
    """A van may make the same move again on a day: as often as fits, where it is made at all.

    An outing holds it once, and in its place has the minutes of the others.
    """
    dawn, dusk = week.problem.days[day]
    often = (dusk - dawn) // fetch.minutes - 1
    if often < 1:
        return
    again = week.sums.variable(float(often), 0.0)
    row = week.sums.row(float("-inf"), 0.0)
    again.entries[row] = 1.0
    mine = [i for i in week.of_stage[fetch.id] if week.slots.pieces[i].day == day]
    week.sums.entries += [(i, row, -float(often)) for i in mine]
    for later in range(day, len(week.problem.days)):
        again.entries[week.leaves[fetch.kind, fetch.origin, later]] = 1.0
        again.entries[week.leaves[fetch.kind, fetch.to, later]] = -1.0


def _frozen(week: Ledger, kind: Kind, day: int) -> Iterator[tuple[int, int]]:
    mine = {t.id for t in kind.trailers}
    for trailer, origin, to, when in frozen_moves(week.problem):
        if trailer in mine and when <= day:
            yield origin, to


def _count(week: Ledger, fetch: Fetch, day: int, row: int, amount: float) -> None:
    pieces = week.slots.pieces
    rows = [i for i in week.of_stage[fetch.id] if pieces[i].day <= day]
    week.sums.entries += [(i, row, amount) for i in rows]
