"""Tries a block at each place in a van-day's order, and takes the best into the week."""

from dispatch.planner.core.box import moves_in, tie
from dispatch.planner.core.change import mark, put, unmark
from dispatch.planner.core.clock import time_day
from dispatch.planner.core.dice import roll
from dispatch.planner.core.forward import drives, hours
from dispatch.planner.core.idle import forgiven
from dispatch.planner.core.jit import fast
from dispatch.planner.core.likely import told_cents
from dispatch.planner.core.price import day_cents, van_cents
from dispatch.planner.core.shapes import (
    AT_ROUTE,
    BACK,
    COUNT,
    DEPART,
    REST,
    SIZE,
    Given,
    Room,
    Split,
    Week,
)
from dispatch.planner.core.sketch import WORK, detours, fits_at, sketch, work_minutes
from dispatch.planner.core.teams import rate_of

APART = 8  # the most stops that may come between the parts of a block


@fast
def try_places(
    given: Given,
    week: Week,
    room: Room,
    count: int,
    many: int,
    r: int,
    size: int,
    eager: float,
    best: float,
) -> float:
    """Try the block at each place in the order, for the team in `room.team`."""
    van, day = r % given.n_vans, r // given.n_vans
    route, base = week.routes[r], given.vans[van].base
    rate = rate_of(given, room.team, size)
    if not hours(given, week, room, r, room.team, size):
        return best
    if not sketch(given, week, room, count, many, r, size):
        return best
    work = room.sketched[WORK]
    metre = given.vans[van].metre_cents
    floor = (
        given.vans[van].day_cents - route.other - told_cents(given, week, room, many, r)
    )
    floor -= rate_of(given, route.team, route.size) * route.paid
    if rate * (work + route.road) + metre * route.metres + floor >= best:
        return best
    detours(given, week, room, count, many, r)
    tied = False
    for p in range(route.held, count + 1):
        road = rate * (work + room.road[p]) + metre * room.far[p]
        dear = road + floor >= best
        if not dear:
            verdict = fits_at(given, room, count, many, p, day, base)
            if verdict > 0:
                tied = tied or _tie_all(given, week, room, count, many)
                at = (p, many, p)
                best = _try(given, week, room, count, many, r, size, at, eager, best)
            elif verdict < 0 and many == 1:
                break
        for k in range(1, many if count - p <= APART else 1):
            if fits_at(given, room, count, k, p, day, base) <= 0:
                break
            tied = tied or _tie_all(given, week, room, count, many)
            for q in range(p + 1, count + 1):
                at = (p, k, q)
                best = _try(given, week, room, count, many, r, size, at, eager, best)
    if tied:
        unmark(room, room.asis, count)
        unmark(room, room.more, many)
    return best


@fast
def _tie_all(given: Given, week: Week, room: Room, count: int, many: int) -> bool:
    """Mark the stops of the van-day and of the block, and which have to do with each other."""
    total = count + many
    mark(room, room.asis, count)
    mark(room, room.more, many)
    moves = moves_in(room.asis, count) or moves_in(room.more, many)
    tie(given, week, room, room.asis, count, moves, total)
    tie(given, week, room, room.more, many, moves, total)
    return True


@fast
def _try(
    given: Given,
    week: Week,
    room: Room,
    count: int,
    many: int,
    r: int,
    size: int,
    at: Split,
    eager: float,
    best: float,
) -> float:
    """Time the van-day with so many of the block before one stop, the rest before another."""
    total, van = count + many, r % given.n_vans
    route = week.routes[r]
    _order(room, count, many, at)
    drives(given, room.tried, total, given.vans[van].base)
    least = work_minutes(given, room.tried, total, size)
    for i in range(total + 1):
        least += room.tried[i].drive
    rate = rate_of(given, room.team, size)
    floor = rate * least - route.other
    floor += van_cents(given, room.tried, total, van)
    floor -= told_cents(given, week, room, many, r)
    if floor - rate_of(given, route.team, route.size) * route.paid >= best:
        return best
    mark(room, room.tried, total)
    if time_day(given, week, room, room.tried, total, r, room.team, size):
        cents = day_cents(given, week, room, room.tried, total, r, room.team, size)
        if room.noise > 0.0:
            cents += room.noise * roll(week.dice) * abs(cents)
        cents -= forgiven(given, week, room, total, r, rate)
        cents += eager * room.tried[at[2] + many - 1].end
        if cents < best:
            best = cents
            _keep(room, total, r, size)
    return best


@fast
def any_place(
    given: Given, week: Week, room: Room, count: int, many: int, r: int, size: int
) -> bool:
    """Whether the block could fit somewhere in the order with a team of that size whose hours are the van's."""
    if not hours(given, week, room, r, room.team, 0):
        return False
    if not sketch(given, week, room, count, many, r, size):
        return False
    day, base = r // given.n_vans, given.vans[r % given.n_vans].base
    if many > 1:
        return True
    for p in range(week.routes[r].held, count + 1):
        verdict = fits_at(given, room, count, many, p, day, base)
        if verdict != 0:
            return verdict > 0
    return False


@fast
def _order(room: Room, count: int, many: int, at: Split) -> None:
    """Write the van-day with the first k of the block before its stop p and the rest before its stop q."""
    p, k, q = at
    for i in range(p):
        room.tried[i] = room.asis[i]
    for i in range(k):
        room.tried[p + i] = room.more[i]
    for i in range(p, q):
        room.tried[k + i] = room.asis[i]
    for i in range(k, many):
        room.tried[q + i] = room.more[i]
    for i in range(q, count):
        room.tried[many + i] = room.asis[i]


@fast
def _keep(room: Room, total: int, r: int, size: int) -> None:
    for i in range(total):
        room.best[i] = room.tried[i]
    for k in range(size):
        room.best_team[k] = room.team[k]
    room.kept[DEPART], room.kept[BACK] = room.out[DEPART], room.out[BACK]
    room.kept[REST], room.kept[SIZE] = room.out[REST], size
    room.kept[AT_ROUTE], room.kept[COUNT] = r, total


@fast
def put_best(given: Given, week: Week, room: Room) -> None:
    """Take the best van-day that `scan` found into the week."""
    room.out[DEPART], room.out[BACK] = room.kept[DEPART], room.kept[BACK]
    room.out[REST] = room.kept[REST]
    put(
        given,
        week,
        room,
        room.best,
        room.kept[COUNT],
        room.kept[AT_ROUTE],
        room.best_team,
        room.kept[SIZE],
    )
