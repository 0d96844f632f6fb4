"""Has a van's outings change days: two of them, or one going before or after those between."""

from dispatch.planner.core.change import removable
from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import in_plan
from dispatch.planner.core.serve import NOWHERE, insert
from dispatch.planner.core.shapes import ALONE, ONLY, TURNED, Given, Room, Week
from dispatch.planner.core.target import mark_day

SWAP = 0.5  # how often two days are swapped and those between stay


@fast
def turn_days(given: Given, week: Week, room: Room, stage: int) -> None:
    """Mark what is done on some of several days by the van that does a stage, and note on which it goes in again."""
    vans, r = given.n_vans, week.seen[stage].route
    van, day = r % vans, r // vans
    other = pick(week.dice, given.n_days - 1)
    other += other >= day
    swap = roll(week.dice) < SWAP
    first, last = min(day, other), max(day, other)
    for to in range(first, last + 1):
        of = to
        if swap:
            of = first + last - to if to in (first, last) else to
        elif day == first:
            of = to + 1 if to < last else first
        else:
            of = to - 1 if to > first else last
        if of != to:
            _note(given, week, room, of * vans + van, to * vans + van)


@fast
def _note(given: Given, week: Week, room: Room, r: int, to: int) -> None:
    """Mark a van-day's stages; those between two of its moves are to go in together."""
    route, many = week.routes[r], room.out[TURNED]
    if route.lock == 2:
        return
    mark_day(week, room, r)
    piece = many
    for i in range(route.held, route.count):
        stop = route.stop[i]
        if stop < 0:
            piece = many
        elif removable(given, week, stop):
            room.turned[many, 0], room.turned[many, 1] = stop, to
            room.turned[many, 2] = piece
            many += 1
    room.out[TURNED] = many


@fast
def lay_turned(given: Given, week: Week, room: Room) -> None:
    """Put what changes days in on its new one: together, or else one by one, as far as there is room."""
    total, since = room.out[TURNED], 0
    while since < total:
        until = since + 1
        while until < total and _together(room, since, until):
            until += 1
        to = room.turned[since, 1]
        room.out[ONLY], room.out[ALONE] = to // given.n_vans + 1, to + 1
        if not _lay(given, week, room, since, until):
            for k in range(since, until):
                _lay(given, week, room, k, k + 1)
        room.out[ONLY], room.out[ALONE] = 0, 0
        since = until
    room.out[TURNED] = 0


@fast
def _together(room: Room, k: int, other: int) -> bool:
    same = room.turned[k, 1] == room.turned[other, 1]
    return same and room.turned[k, 2] == room.turned[other, 2]


@fast
def _lay(given: Given, week: Week, room: Room, since: int, until: int) -> bool:
    many = 0
    for k in range(since, until):
        stage = room.turned[k, 0]
        if week.seen[stage].route < 0 and in_plan(given, week, stage):
            room.block[many] = stage
            many += 1
    return many > 0 and insert(given, week, room, many, 0.0, NOWHERE)
