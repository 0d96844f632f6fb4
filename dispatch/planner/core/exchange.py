"""Swaps people between two van-days of a day, or lends one, where the week costs less for it."""

from dispatch.planner.core.change import copy_week, put, retime
from dispatch.planner.core.dice import pick
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import total_cents
from dispatch.planner.core.shapes import Given, Ints, Room, Rows, Week
from dispatch.planner.core.teams import able, may_ride


@fast
def exchange(given: Given, week: Week, before: Week, room: Room, r: int) -> None:
    """Try each swap with one other van-day of the day, and each loan; take the first that pays."""
    other = _partner(given, week, r)
    if other < 0:
        return
    cents = total_cents(given, week)
    copy_week(before, week)
    ours, theirs = week.routes[r].size, week.routes[other].size
    for k in range(1, (ours + 1) * (theirs + 1)):
        i, j = ours - k // (theirs + 1), theirs - k % (theirs + 1)
        size = _team(room.team, before.routes[r], i, before.routes[other], j)
        size2 = _team(room.best_team, before.routes[other], j, before.routes[r], i)
        if not _may(given, before, r, room.team, size):
            continue
        if not _may(given, before, other, room.best_team, size2):
            continue
        if _give(given, week, room, r, room.team, size):
            if _give(given, week, room, other, room.best_team, size2):
                _keep_busy(given, week, r)
                if total_cents(given, week) < cents - 1e-6:
                    return
        copy_week(week, before)


@fast
def _partner(given: Given, week: Week, r: int) -> int:
    """Return another van-day of that day with stops that may change, -1 for none."""
    day, vans = r // given.n_vans, given.n_vans
    at = pick(week.dice, vans)
    for k in range(vans):
        other = day * vans + (at + k) % vans
        if other == r or week.routes[other].count == 0:
            continue
        if week.routes[other].lock == 0:
            return other
    return -1


@fast
def _team(team: Ints, of: Rows, out: int, other: Rows, come: int) -> int:
    """Write a van-day's team without one member and with one of another's; past the end: nobody."""
    size = 0
    for k in range(of.size):
        if k != out:
            team[size] = of.team[k]
            size += 1
    if come < other.size and size < len(team):
        team[size] = other.team[come]
        size += 1
    return size


@fast
def _may(given: Given, week: Week, r: int, team: Ints, size: int) -> bool:
    """Whether a team may ride in that van and do its stops."""
    route = week.routes[r]
    if size > given.vans[r % given.n_vans].seats or not may_ride(given, team, size):
        return False
    for i in range(route.count):
        if route.stop[i] >= 0 and not able(given, team, size, route.stop[i]):
            return False
    return True


@fast
def _give(given: Given, week: Week, room: Room, r: int, team: Ints, size: int) -> bool:
    """Time a van-day anew for a team and take it into the week; False when it cannot be."""
    route = week.routes[r]
    count = route.count
    for i in range(count):
        room.tried[i].stop = route.stop[i]
    if not retime(given, week, room, r, count, team, size):
        return False
    put(given, week, room, room.tried, count, r, team, size)
    return True


@fast
def _keep_busy(given: Given, week: Week, r: int) -> None:
    """Say again who rides there: who came was freed when the other van-day let go."""
    route, day = week.routes[r], r // given.n_vans
    for k in range(route.size):
        week.busy[day, route.team[k]] = 1
