"""Puts a block of stops where it costs least: over days, vans, teams and places in the order."""

from dispatch.planner.core.box import box
from dispatch.planner.core.change import load
from dispatch.planner.core.dice import roll
from dispatch.planner.core.jit import fast
from dispatch.planner.core.places import try_places
from dispatch.planner.core.shapes import (
    CHAIN,
    STOPS,
    SUPPLIES,
    Given,
    Room,
    Rows,
    Week,
)
from dispatch.planner.core.sketch import (
    site_of,
)
from dispatch.planner.core.teams import able_all
from dispatch.planner.core.try_teams import new_teams, one_more, swapped

BLINK = 0.02  # the share of van-days passed over, for variety


@fast
def scan(
    given: Given, week: Week, room: Room, many: int, eager: float, best: float
) -> float:
    """Try the block in `room.more` everywhere; the cheapest found goes to `room.best`.

    Van-days with stops come first: they set a mark that most empty ones cannot reach.
    """
    site = site_of(given, week, room.more[many - 1].stop)
    for empty in range(2):
        for day in range(given.n_days):
            if not _has_window(given, room.more, many, day):
                continue
            for k in range(given.n_vans):
                van = given.near[site, k]
                r = day * given.n_vans + van
                if _idle(week, r) != (empty == 1):
                    continue
                if _worth_a_try(given, week, room, many, r):
                    best = _into(given, week, room, many, r, eager, best)
    return best


@fast
def _worth_a_try(given: Given, week: Week, room: Room, many: int, r: int) -> bool:
    route = week.routes[r]
    if route.lock == 2 or route.count + many > STOPS or roll(week.dice) < BLINK:
        return False
    if _idle(week, r):
        van = r % given.n_vans
        twin = given.vans[van].twin
        if twin != van and _idle(week, r - van + twin):
            return False
    return _may_carry(given, week, room.more, many, r)


@fast
def _idle(week: Week, r: int) -> bool:
    return week.routes[r].count == 0 and week.routes[r].lock == 0


@fast
def _has_window(given: Given, slots: Rows, many: int, day: int) -> bool:
    for i in range(many):
        stop = slots[i].stop
        if stop >= 0:
            row = stop * given.n_days + day
            if given.window_at[row] == given.window_at[row + 1]:
                return False
    return True


@fast
def _may_carry(given: Given, week: Week, slots: Rows, many: int, r: int) -> bool:
    """Whether the van has the gear, the hitch and the supplies for the block beside its stops."""
    van = r % given.n_vans
    heavy = False
    for i in range(many):
        stop = slots[i].stop
        if stop < 0:
            trailer = (-1 - stop) // CHAIN
            if given.trailers[trailer].towed != 0 and given.vans[van].tows == 0:
                return False
        elif given.fits[stop, van] == 0:
            return False
        else:
            for k in range(SUPPLIES):
                heavy = heavy or given.stages[stop].supplies[k] > 0
    if not heavy:
        return True
    route = week.routes[r]
    for k in range(SUPPLIES):
        load_now = 0
        for i in range(many):
            if slots[i].stop >= 0:
                load_now += given.stages[slots[i].stop].supplies[k]
        if load_now == 0:
            continue
        for i in range(route.count):
            if route.stop[i] >= 0:
                load_now += given.stages[route.stop[i]].supplies[k]
        if load_now > given.vans[van].carries[k]:
            return False
    return True


@fast
def _into(
    given: Given,
    week: Week,
    room: Room,
    many: int,
    r: int,
    eager: float,
    best: float,
) -> float:
    """Try the block in one van-day."""
    count = load(given, week, room.asis, r)
    if count < 0:
        return best
    for i in range(many):
        if not box(given, week, room.more, i, r):
            return best
    route = week.routes[r]
    if route.count == 0 and route.lock == 0:
        return new_teams(given, week, room, many, r, eager, best)
    for k in range(route.size):
        room.team[k] = route.team[k]
    fine = able_all(given, room.team, route.size, room.more, many)
    if fine:
        best = try_places(given, week, room, count, many, r, route.size, eager, best)
    if route.lock == 1:
        return best
    if route.size < given.vans[r % given.n_vans].seats:
        best = one_more(given, week, room, count, many, r, eager, best)
    if not fine or roll(week.dice) < 0.1:
        best = swapped(given, week, room, count, many, r, eager, best)
    return best
