"""Puts timed van-days into the week, empties them, and makes one week like another."""

from dispatch.planner.core.box import box, moves_in, tie
from dispatch.planner.core.chain import number_of
from dispatch.planner.core.clock import time_day
from dispatch.planner.core.dice import stamp
from dispatch.planner.core.forward import drives, sites
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at, trailer_of
from dispatch.planner.core.measure import measure
from dispatch.planner.core.price import van_cents, visit_cents
from dispatch.planner.core.shapes import (
    BACK,
    DEPART,
    MOVE,
    MOVE_TOO,
    REST,
    Given,
    Ints,
    Room,
    Rows,
    Week,
)
from dispatch.planner.core.stands import leave_stands, take_stands


@fast
def copy_week(to: Week, of: Week) -> None:
    """Make one week the same as another, van-day by van-day where they differ; the dice stay their own."""
    for r in range(of.n_routes):
        if to.version[r] == of.version[r]:
            continue
        for i in range(to.routes[r].count):
            stop = to.routes[r].stop[i]
            if stop >= 0:
                to.seen[stop] = of.seen[stop]
        for i in range(of.routes[r].count):
            stop = of.routes[r].stop[i]
            if stop >= 0:
                to.seen[stop] = of.seen[stop]
        to.routes[r] = of.routes[r]
        to.version[r] = of.version[r]
    for trailer in range(of.n_trailers):
        _copy_chain(to.chains[trailer], of.chains[trailer])
    for person in range(of.n_people):
        to.paid[person] = of.paid[person]
        for day in range(of.n_days):
            to.busy[day, person] = of.busy[day, person]
    for job in range(of.n_jobs):
        to.chosen[job] = of.chosen[job]


@fast
def _copy_chain(to: Rows, of: Rows) -> None:
    to.count, to.last = of.count, of.last
    for k in range(of.count):
        to.prior[k], to.next[k], to.rank[k] = of.prior[k], of.next[k], of.rank[k]
        to.place[k], to.route[k] = of.place[k], of.route[k]
        to.start[k], to.end[k] = of.start[k], of.end[k]
    to.many = of.many
    for g in range(of.many):
        to.guests[g] = of.guests[g]


@fast
def renew(week: Week) -> None:
    """Give every van-day a new version: the next copy to or from another week copies all."""
    for r in range(week.n_routes):
        week.version[r] = stamp(week.dice)


@fast
def load(given: Given, week: Week, slots: Rows, r: int) -> int:
    """Write a van-day's stops and what surrounds them into slots; return how many, -1 if none may be."""
    route = week.routes[r]
    fine = True
    for i in range(route.count):
        slots[i].stop = route.stop[i]
        slots[i].start, slots[i].end = route.start[i], route.end[i]
        fine = box(given, week, slots, i, r) and fine
    sites(given, week, slots, route.count)
    return route.count if fine else -1


@fast
def mark(room: Room, slots: Rows, count: int) -> None:
    """Say at which place of the slots each stage is."""
    for i in range(count):
        if slots[i].stop >= 0:
            room.at[slots[i].stop] = i


@fast
def unmark(room: Room, slots: Rows, count: int) -> None:
    """Forget `mark`."""
    for i in range(count):
        if slots[i].stop >= 0:
            room.at[slots[i].stop] = -1


@fast
def put(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    r: int,
    team: Ints,
    size: int,
) -> None:
    """Take the van-day timed last into the week."""
    vans = given.n_vans
    day, van = r // vans, r % vans
    clear(given, week, r)
    route = week.routes[r]
    rest = room.out[REST]
    route.depart, route.back, route.rest = room.out[DEPART], room.out[BACK], rest
    route.paid = route.back - route.depart - (given.rest if rest >= 0 else 0)
    route.other = van_cents(given, slots, count, van)
    route.count, route.size = count, size
    for k in range(size):
        route.team[k] = team[k]
        week.busy[day, team[k]] = 1
        week.paid[team[k]] += route.paid
    for i in range(count):
        stop, start = slots[i].stop, slots[i].start
        route.stop[i], route.start[i], route.end[i] = stop, start, slots[i].end
        _note(given, week, r, i)
        if stop >= 0:
            route.other += visit_cents(given, stop, day, start)
    measure(given, week, r)
    week.version[r] = stamp(week.dice)


@fast
def _note(given: Given, week: Week, r: int, i: int) -> None:
    """Write a van-day's stop to its stage, or to the chain of the trailer it moves."""
    route = week.routes[r]
    stop, start, end = route.stop[i], route.start[i], route.end[i]
    if stop < 0:
        chain, number = week.chains[trailer_of(stop)], number_of(stop)
        chain.route[number] = r
        chain.start[number], chain.end[number] = start, end
        return
    hold = lag_at(given.lags, given.steps, given.stages[stop].hold, end)
    seen = week.seen[stop]
    seen.route, seen.start, seen.end = r, start, end
    seen.held = end + max(0, hold)
    take_stands(week, stop)


@fast
def restore(given: Given, week: Week, r: int, saved: Rows) -> None:
    """Make a van-day what it was when it was saved; its version is left to the caller."""
    clear(given, week, r)
    week.routes[r] = saved
    route = week.routes[r]
    for k in range(route.size):
        week.busy[r // given.n_vans, route.team[k]] = 1
        week.paid[route.team[k]] += route.paid
    for i in range(route.count):
        _note(given, week, r, i)


@fast
def clear(given: Given, week: Week, r: int) -> None:
    """Empty a van-day: its people free, its stages unplaced; moves stay in their chains."""
    route, day = week.routes[r], r // given.n_vans
    for k in range(route.size):
        week.busy[day, route.team[k]] = 0
        week.paid[route.team[k]] -= route.paid
    for i in range(route.count):
        if route.stop[i] >= 0:
            leave_stands(week, route.stop[i])
            week.seen[route.stop[i]].route = -1
    route.count, route.size, route.paid = 0, 0, 0
    route.work, route.road, route.metres, route.kept = 0, 0, 0, 0
    route.other, route.rest = 0.0, -1
    week.version[r] = stamp(week.dice)


@fast
def removable(given: Given, week: Week, stage: int) -> bool:
    """Whether a placed stage may be taken out: not pinned, not done, not under way."""
    r = week.seen[stage].route
    if r < 0 or given.stages[stage].pin >= 0 or week.routes[r].lock == 2:
        return False
    if week.routes[r].lock == 1:
        for i in range(week.routes[r].held):
            if week.routes[r].stop[i] == stage:
                return False
    return True


@fast
def keep_marked(given: Given, week: Week, room: Room, r: int) -> None:
    """Take the marked stages out of a van-day and time the rest anew, all of them if need be."""
    route, slots, count = week.routes[r], room.tried, 0
    for i in range(route.count):
        stop = route.stop[i]
        gone = i >= route.held and _gone(room, stop)
        if not gone:
            slots[count].stop = stop
            count += 1
    if count == route.count:
        return
    size = route.size
    for k in range(size):
        room.best_team[k] = route.team[k]
    if count > route.held or (count > 0 and route.lock == 1):
        if retime(given, week, room, r, count, room.best_team, size):
            put(given, week, room, slots, count, r, room.best_team, size)
            return
        if route.lock == 1:
            _as_held(given, week, r)
            return
    elif route.lock == 1:
        return
    clear(given, week, r)


@fast
def _gone(room: Room, stop: int) -> bool:
    if stop >= 0:
        return room.mark[stop] == 1
    return stop in (room.out[MOVE], room.out[MOVE_TOO])


@fast
def _as_held(given: Given, week: Week, r: int) -> None:
    """Leave a van-day under way with what is done, as it was read."""
    route = week.routes[r]
    for i in range(route.held, route.count):
        if route.stop[i] >= 0:
            leave_stands(week, route.stop[i])
            week.seen[route.stop[i]].route = -1
    route.count = route.held
    measure(given, week, r)
    week.version[r] = stamp(week.dice)


@fast
def retime(
    given: Given, week: Week, room: Room, r: int, count: int, team: Ints, size: int
) -> bool:
    """Time the stops in `room.tried` for a team, with everything around them looked up."""
    slots = room.tried
    for i in range(count):
        if not box(given, week, slots, i, r):
            return False
    sites(given, week, slots, count)
    mark(room, slots, count)
    tie(given, week, room, slots, count, moves_in(slots, count), count)
    drives(given, slots, count, given.vans[r % given.n_vans].base)
    done = time_day(given, week, room, slots, count, r, team, size)
    unmark(room, slots, count)
    return done
