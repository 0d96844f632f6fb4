"""Tries a block at each place in a van-day's order, and takes the best into the week."""

from dispatch.planner.core.box import tie
from dispatch.planner.core.change import mark, put, unmark
from dispatch.planner.core.clock import time_day
from dispatch.planner.core.forward import drives
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import day_cents
from dispatch.planner.core.shapes import (
    AT_ROUTE,
    BACK,
    COUNT,
    DEPART,
    REST,
    SIZE,
    Given,
    Room,
    Week,
)
from dispatch.planner.core.sketch import (
    fits_at,
    sketch,
    work_minutes,
)
from dispatch.planner.core.teams import rate_of


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
    work = work_minutes(given, room.asis, count, size) + work_minutes(
        given, room.more, many, size
    )
    old = rate_of(given, route.team, route.size) * route.paid + route.other
    fresh = given.vans[van].day_cents - old
    if rate * work + fresh >= best:
        return best
    if not sketch(given, week, room, count, many, r, size):
        return best
    total = count + many
    for p in range(route.held, count + 1):
        verdict = fits_at(given, week, room, count, many, p, day, base)
        if verdict < 0:
            break
        if verdict == 0:
            continue
        _order(room, count, many, p)
        drives(given, week, room.tried, total, base)
        road = 0
        for i in range(total + 1):
            road += room.tried[i].drive
        if rate * (road + work) + fresh >= best:
            continue
        mark(room, room.tried, total)
        tie(given, week, room, room.tried, total)
        if time_day(given, week, room, room.tried, total, r, room.team, size):
            cents = day_cents(given, week, room, room.tried, total, r, room.team, size)
            cents += eager * room.tried[p + many - 1].end
            if cents < best:
                best = cents
                _keep(room, total, r, size)
        unmark(room, room.tried, total)
    return best


@fast
def _order(room: Room, count: int, many: int, p: int) -> None:
    """Write the van-day with the block before its stop p."""
    for i in range(p):
        room.tried[i] = room.asis[i]
    for i in range(many):
        room.tried[p + i] = room.more[i]
    for i in range(p, count):
        room.tried[i + many] = room.asis[i]


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
