"""Puts a block of stops where it costs least: over days, vans, teams and places in the order."""

from dispatch.planner.core.box import box
from dispatch.planner.core.change import load
from dispatch.planner.core.dice import roll
from dispatch.planner.core.forward import sites
from dispatch.planner.core.jit import fast
from dispatch.planner.core.likely import is_idle, likely, may_try, nearest_idle
from dispatch.planner.core.places import try_places
from dispatch.planner.core.shapes import Given, Room, Week
from dispatch.planner.core.sketch import forget
from dispatch.planner.core.teams import able_all
from dispatch.planner.core.try_teams import new_teams, one_more, swapped

SWAPS = 0.3  # how often another is tried in a member's place though the team will do


@fast
def scan(
    given: Given, week: Week, room: Room, many: int, eager: float, best: float
) -> float:
    """Try the block in `room.more` where it may cost least; the cheapest found goes to `room.best`.

    Van-days with stops come first: they set a mark that most empty ones cannot reach.
    """
    sites(given, week, room.more, many)
    for k in range(likely(given, week, room, many, eager)):
        if room.least[k] < best:
            r, grown = room.likely[k], room.grown[k]
            best = _into(given, week, room, many, r, grown, eager, best)
    for day in range(given.n_days):
        if may_try(given, week, room, many, day):
            for k in range(nearest_idle(given, week, room, many, day)):
                r = room.likely[k]
                best = _into(given, week, room, many, r, 0.0, eager, best)
    return best


@fast
def _into(
    given: Given,
    week: Week,
    room: Room,
    many: int,
    r: int,
    grown: float,
    eager: float,
    best: float,
) -> float:
    """Try the block in one van-day; with one more in the team it costs at least `grown`."""
    forget(room)
    for i in range(many):
        if not box(given, week, room.more, i, r):
            return best
    count = load(given, week, room.asis, r)
    if count < 0:
        return best
    route = week.routes[r]
    if is_idle(week, r):
        return new_teams(given, week, room, many, r, eager, best)
    for k in range(route.size):
        room.team[k] = route.team[k]
    fine = able_all(given, room.team, route.size, room.more, many)
    if fine:
        best = try_places(given, week, room, count, many, r, route.size, eager, best)
    if route.lock == 1:
        return best
    if route.size < given.vans[r % given.n_vans].seats and grown < best:
        best = one_more(given, week, room, count, many, r, eager, best)
    if not fine or roll(week.dice) < SWAPS:
        best = swapped(given, week, room, count, many, r, eager, best)
    return best
