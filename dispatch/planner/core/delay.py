"""Lets van-days wait a while, so that what they follow may end later, and hurries them again."""

from dispatch.planner.core.change import put, retime
from dispatch.planner.core.dice import pick, roll
from dispatch.planner.core.forward import hours
from dispatch.planner.core.jit import fast
from dispatch.planner.core.price import day_cents
from dispatch.planner.core.shapes import CLOSES, DELAYED, SINCE, Given, Room, Week
from dispatch.planner.core.stands import elsewhere

LATEST = 0.6  # how often a van-day is delayed until its return is as late as may be


@fast
def delay(given: Given, week: Week, room: Room, r: int) -> None:
    """Have a van-day depart later, by luck, if it still can be done; `hurry` ends that."""
    route, many = week.routes[r], room.delayed[0]
    count, size = route.count, route.size
    if route.lock != 0 or count == 0 or many >= DELAYED:
        return
    for k in range(1, many + 1):
        if room.delayed[k] == r:
            return
    for k in range(size):
        room.best_team[k] = route.team[k]
    if not hours(given, week, room, r, room.best_team, size):
        return
    spare = room.out[CLOSES] - route.back
    if spare < 1:
        return
    if roll(week.dice) > LATEST:
        spare = 1 + pick(week.dice, spare)
    room.out[SINCE] = route.depart + spare
    if _again(given, week, room, r):
        put(given, week, room, room.tried, count, r, room.best_team, size)
        room.delayed[0] = many + 1
        room.delayed[many + 1] = r
    room.out[SINCE] = 0


@fast
def hurry(given: Given, week: Week, room: Room, kept: int) -> None:
    """Have the van-days that wait, all but the first so many, depart as soon as costs least."""
    for k in range(kept + 1, room.delayed[0] + 1):
        r = room.delayed[k]
        route = week.routes[r]
        count, size = route.count, route.size
        if count == 0 or not _again(given, week, room, r):
            continue
        team = room.best_team
        cents = day_cents(given, week, room, room.tried, count, r, team, size)
        if cents < 0.0:
            put(given, week, room, room.tried, count, r, team, size)
    room.delayed[0] = kept


@fast
def _again(given: Given, week: Week, room: Room, r: int) -> bool:
    """Time a van-day's own stops and team anew, into `room.tried` and `room.best_team`."""
    route = week.routes[r]
    for k in range(route.size):
        room.best_team[k] = route.team[k]
    for i in range(route.count):
        room.tried[i].stop = route.stop[i]
    return retime(given, week, room, r, route.count, room.best_team, route.size)


@fast
def make_way(given: Given, week: Week, now: Week, room: Room) -> None:
    """Delay what follows the stages that were taken out and is still in the week."""
    for stage in range(week.n_stages):
        if week.seen[stage].route >= 0 or now.seen[stage].route < 0:
            continue
        _delay_after(given, week, room, stage)


@fast
def ease(given: Given, week: Week, room: Room, r: int) -> None:
    """Delay the other van-days that follow what a van-day does."""
    route = week.routes[r]
    for i in range(route.count):
        if route.stop[i] >= 0:
            _delay_after(given, week, room, route.stop[i])


@fast
def _delay_after(given: Given, week: Week, room: Room, stage: int) -> None:
    """Delay the van-days, other than a stage's own, with the stages that follow it, and with the next moves of its trailers."""
    row, seen = given.stages[stage], week.seen[stage]
    for b in range(row.then[0], row.then[1]):
        r = week.seen[given.then[b].stage].route
        if r >= 0 and r != seen.route:
            delay(given, week, room, r)
    for k in range(seen.stands if seen.route >= 0 else 0):
        chain = week.chains[seen.trailer[k]]
        then = chain.next[seen.number[k]]
        if then >= 0 and elsewhere(chain.route[then], seen.route):
            delay(given, week, room, chain.route[then])
