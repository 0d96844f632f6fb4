"""Cheap looks at a van-day before it is timed: where a block could fit at all."""

from dispatch.planner.core.forward import drives, hours, lengths
from dispatch.planner.core.jit import fast
from dispatch.planner.core.shapes import CHAIN, CLOSES, OPENS, Given, Room, Rows, Week


@fast
def site_of(given: Given, week: Week, stop: int) -> int:
    """Return the place a stop ends at."""
    if stop >= 0:
        return given.stages[stop].place
    return week.chains[(-1 - stop) // CHAIN].place[(-1 - stop) % CHAIN]


@fast
def road_minutes(given: Given, week: Week, slots: Rows, count: int, base: int) -> int:
    """Return the minutes of driving from base through the stops and home, without the tows."""
    at, road = base, 0
    for i in range(count):
        stop = slots[i].stop
        origin = to = site_of(given, week, stop)
        if stop < 0:
            chain = week.chains[(-1 - stop) // CHAIN]
            origin = chain.place[(-1 - stop) % CHAIN - 1]
        road += given.drive[at, origin]
        at = to
    return road + given.drive[at, base]


@fast
def work_minutes(given: Given, slots: Rows, count: int, size: int) -> int:
    """Return the minutes of work for a team of that size; far below 0 when it is too small."""
    total = 0
    for i in range(count):
        if slots[i].stop >= 0:
            minutes = given.stages[slots[i].stop].minutes[size]
            total += minutes if minutes >= 0 else -100000
    return total


@fast
def sketch(
    given: Given, week: Week, room: Room, count: int, many: int, r: int, size: int
) -> bool:
    """Write for each stop when it could be reached and begun at best; False when the team cannot be out."""
    day, held = r // given.n_vans, week.routes[r].held
    if not hours(given, week, room, r, room.team, size):
        return False
    if not lengths(given, week, room.asis, (0, count), size):
        return False
    if not lengths(given, week, room.more, (0, many), size):
        return False
    base = given.vans[r % given.n_vans].base
    drives(given, week, room.asis, count, base)
    at = room.out[OPENS]
    for i in range(count):
        slot = room.asis[i]
        if i < held:
            at = week.routes[r].end[i]
            slot.soon_end, slot.last = at, week.routes[r].start[i]
            continue
        at = _window_start(
            given, slot.stop, day, max(at + slot.drive, slot.low), slot.minutes
        )
        if at < 0:
            return False
        at += slot.minutes
        slot.soon_end = at
        slot.last = _last_start(given, slot.stop, day, slot.high, slot.minutes)
    return True


@fast
def _window_start(given: Given, stop: int, day: int, at: int, minutes: int) -> int:
    """Return the first start that its windows allow a stop from `at` on, -1 for none."""
    if stop < 0:
        return at
    row = stop * given.n_days + day
    for w in range(given.window_at[row], given.window_at[row + 1]):
        start = max(at, given.windows[w].start)
        if start + minutes <= given.windows[w].end:
            return start
    return -1


@fast
def _last_start(given: Given, stop: int, day: int, high: int, minutes: int) -> int:
    """Return the last start that its windows allow a stop."""
    if stop < 0:
        return high
    row = stop * given.n_days + day
    last = given.windows[given.window_at[row + 1] - 1].end - minutes
    return min(high, last)


@fast
def fits_at(
    given: Given,
    week: Week,
    room: Room,
    count: int,
    many: int,
    p: int,
    day: int,
    base: int,
) -> int:
    """Return 1 when the block may fit before stop p, 0 when not, -1 when it fits nowhere later either."""
    at, end = base, room.out[OPENS]
    if p > 0:
        at, end = site_of(given, week, room.asis[p - 1].stop), room.asis[p - 1].soon_end
    for i in range(many):
        slot = room.more[i]
        to = site_of(given, week, slot.stop)
        origin = to
        if slot.stop < 0:
            chain = week.chains[(-1 - slot.stop) // CHAIN]
            origin = chain.place[(-1 - slot.stop) % CHAIN - 1]
        start = max(end + given.drive[at, origin], slot.low)
        start = _window_start(given, slot.stop, day, start, slot.minutes)
        if start < 0 or start > slot.high:
            return -1 if i == 0 and given.drive[at, origin] == 0 else 0
        end, at = start + slot.minutes, to
    if p == count:
        home = end + given.drive[at, base]
        return 1 if home <= room.out[CLOSES] else 0
    after = room.asis[p]
    origin = site_of(given, week, after.stop)
    if after.stop < 0:
        chain = week.chains[(-1 - after.stop) // CHAIN]
        origin = chain.place[(-1 - after.stop) % CHAIN - 1]
    return 1 if end + given.drive[at, origin] <= after.last else 0
