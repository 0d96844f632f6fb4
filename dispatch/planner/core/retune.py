"""Small certain gains: one person less, more or another in a van-day."""

from dispatch.planner.core.box import moves_in, tie
from dispatch.planner.core.change import load, mark, put, unmark
from dispatch.planner.core.clock import time_day
from dispatch.planner.core.dice import pick
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
from dispatch.planner.core.sketch import work_minutes
from dispatch.planner.core.teams import able_all, is_free, may_ride, rate_of

TRIED = 12


@fast
def retune(given: Given, week: Week, room: Room, r: int) -> None:
    """Give a free van-day the cheapest team one change away from its own."""
    route = week.routes[r]
    if route.lock != 0 or route.count == 0:
        return
    count = load(given, week, room.tried, r)
    if count < 0:
        return
    drives(given, room.tried, count, given.vans[r % given.n_vans].base)
    mark(room, room.tried, count)
    moves = moves_in(room.tried, count)
    tie(given, week, room, room.tried, count, moves, count)
    for k in range(route.size):
        room.team[k] = route.team[k]
    best = _try(given, week, room, count, r, route.size, -1e-6)
    best = _fewer(given, week, room, count, r, best)
    best = _others(given, week, room, count, r, best)
    unmark(room, room.tried, count)
    if best < -1e-6:
        room.out[DEPART], room.out[BACK] = room.kept[DEPART], room.kept[BACK]
        room.out[REST] = room.kept[REST]
        size = room.kept[SIZE]
        put(given, week, room, room.best, count, r, room.best_team, size)


@fast
def _try(
    given: Given,
    week: Week,
    room: Room,
    count: int,
    r: int,
    size: int,
    best: float,
) -> float:
    slots, van = room.tried, given.vans[r % given.n_vans]
    route = week.routes[r]
    rate = rate_of(given, room.team, size)
    work = work_minutes(given, slots, count, size)
    floor = van.day_cents + van.metre_cents * route.metres - route.other
    floor -= given.day_cents * route.kept
    floor -= rate_of(given, route.team, route.size) * route.paid
    if work < 0 or rate * (work + route.road) + floor >= best:
        return best
    if not may_ride(given, room.team, size):
        return best
    if not able_all(given, room.team, size, slots, count):
        return best
    if not time_day(given, week, room, slots, count, r, room.team, size):
        return best
    cents = day_cents(given, week, room, slots, count, r, room.team, size)
    if cents >= best:
        return best
    for i in range(count):
        room.best[i] = slots[i]
    for k in range(size):
        room.best_team[k] = room.team[k]
    room.kept[DEPART], room.kept[BACK] = room.out[DEPART], room.out[BACK]
    room.kept[REST], room.kept[SIZE] = room.out[REST], size
    room.kept[AT_ROUTE], room.kept[COUNT] = r, count
    return cents


@fast
def _fewer(
    given: Given, week: Week, room: Room, count: int, r: int, best: float
) -> float:
    route = week.routes[r]
    for out in range(route.size):
        size = 0
        for k in range(route.size):
            if k != out:
                room.team[size] = route.team[k]
                size += 1
        best = _try(given, week, room, count, r, size, best)
    for k in range(route.size):
        room.team[k] = route.team[k]
    return best


@fast
def _others(
    given: Given, week: Week, room: Room, count: int, r: int, best: float
) -> float:
    """Try free people beside the team, and in the place of each of its members."""
    route, day, tried = week.routes[r], r // given.n_vans, 0
    people = given.n_people
    first = pick(week.dice, people)
    seats = given.vans[r % given.n_vans].seats
    for k in range(people):
        person = (first + k) % people
        if not is_free(given, week, day, person):
            continue
        if route.size < seats:
            room.team[route.size] = person
            best = _try(given, week, room, count, r, route.size + 1, best)
        for out in range(route.size):
            room.team[out] = person
            best = _try(given, week, room, count, r, route.size, best)
            room.team[out] = route.team[out]
        tried += 1
        if tried >= TRIED:
            break
    return best
