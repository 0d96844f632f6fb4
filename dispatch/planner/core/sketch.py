"""Cheap looks at a van-day before it is timed: where a block could fit at all."""

from dispatch.planner.core.forward import drives, lengths
from dispatch.planner.core.jit import fast
from dispatch.planner.core.shapes import (
    CLOSES,
    OPENS,
    PARTS,
    Given,
    Room,
    Rows,
    Week,
)

# What `room.sketched` holds: for which hours and team size the sketch is, whether there is one, its
# minutes of work, whether the detours are written.
SINCE, UNTIL, SIZED, FINE, WORK, DETOURS = range(6)
UNKNOWN = 2  # of a place that was not looked at


@fast
def road_inside(given: Given, slots: Rows, count: int) -> int:
    """Return the minutes of driving from the first stop of a block to its last, without the tows."""
    road = 0
    for i in range(1, count):
        road += given.drive[slots[i - 1].site, slots[i].origin]
    return road


@fast
def metres_inside(given: Given, slots: Rows, count: int) -> int:
    """Return the metres from where a block's first stop begins to where its last leaves the van."""
    metres = 0
    for i in range(count):
        if i > 0:
            metres += given.metres[slots[i - 1].site, slots[i].origin]
        if slots[i].stop < 0:
            metres += given.metres[slots[i].origin, slots[i].site]
    return metres


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
    """Write for each stop when it could be begun within the hours in `room.out`, soonest and last; False for never.

    What was written for the same hours and as many in the team stands until `forget`.
    """
    known = room.sketched
    if (
        known[SIZED] == size
        and known[SINCE] == room.out[OPENS]
        and known[UNTIL] == room.out[CLOSES]
    ):
        return known[FINE] == 1
    known[SIZED], known[SINCE], known[UNTIL] = size, room.out[OPENS], room.out[CLOSES]
    known[FINE] = _sketch(given, week, room, count, many, r, size)
    if known[FINE] == 0:
        return False
    known[WORK] = work_minutes(given, room.asis, count, size)
    known[WORK] += work_minutes(given, room.more, many, size)
    for p in range(week.routes[r].held, count + 1):
        for k in range(min(many + 1, PARTS)):
            room.fit[p, k] = UNKNOWN
    return True


@fast
def forget(room: Room) -> None:
    """Forget what was sketched: the van-day or the block is another."""
    room.sketched[SIZED] = -1
    room.sketched[DETOURS] = 0


@fast
def detours(
    given: Given, week: Week, room: Room, count: int, many: int, r: int
) -> None:
    """Write the minutes and the metres on the road with the block before each stop."""
    if room.sketched[DETOURS] == 1:
        return
    room.sketched[DETOURS] = 1
    route, base = week.routes[r], given.vans[r % given.n_vans].base
    inside = route.road + road_inside(given, room.more, many)
    far = route.metres + metres_inside(given, room.more, many)
    first, last = room.more[0].origin, room.more[many - 1].site
    for p in range(route.held, count + 1):
        before = base if p == 0 else room.asis[p - 1].site
        after = base if p == count else room.asis[p].origin
        road = given.drive[before, first] + given.drive[last, after]
        room.road[p] = inside + road - given.drive[before, after]
        metres = given.metres[before, first] + given.metres[last, after]
        room.far[p] = far + metres - given.metres[before, after]


@fast
def _sketch(
    given: Given, week: Week, room: Room, count: int, many: int, r: int, size: int
) -> bool:
    day, held = r // given.n_vans, week.routes[r].held
    if not lengths(given, room.asis, (0, count), size):
        return False
    if not lengths(given, room.more, (0, many), size):
        return False
    base = given.vans[r % given.n_vans].base
    drives(given, room.asis, count, base)
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
        slot.soon, at = at, at + slot.minutes
        slot.soon_end = at
    by = room.out[CLOSES]
    for k in range(count - held):
        i = count - 1 - k
        slot = room.asis[i]
        by -= room.asis[i + 1].drive + slot.minutes
        by = _last_start(given, slot.stop, day, min(by, slot.high), slot.minutes)
        if by < slot.soon:
            return False
        slot.last = by
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
def _last_start(given: Given, stop: int, day: int, by: int, minutes: int) -> int:
    """Return the last start, no later than that, which its windows allow a stop; -1 for none."""
    if stop < 0:
        return by
    row, last = stop * given.n_days + day, -1
    for w in range(given.window_at[row], given.window_at[row + 1]):
        start = min(by, given.windows[w].end - minutes)
        if start >= given.windows[w].start:
            last = max(last, start)
    return last


@fast
def fits_at(
    given: Given, room: Room, count: int, many: int, p: int, day: int, base: int
) -> int:
    """Return 1 when so many of the block may fit before stop p, 0 when not, -1 when they fit nowhere later either."""
    if many >= PARTS:
        return _fits(given, room, count, many, p, day, base)
    if room.fit[p, many] == UNKNOWN:
        room.fit[p, many] = _fits(given, room, count, many, p, day, base)
    return room.fit[p, many]


@fast
def _fits(
    given: Given, room: Room, count: int, many: int, p: int, day: int, base: int
) -> int:
    at, end = base, room.out[OPENS]
    if p > 0:
        at, end = room.asis[p - 1].site, room.asis[p - 1].soon_end
    for i in range(many):
        slot = room.more[i]
        drive = given.drive[at, slot.origin]
        start = max(end + drive, slot.low)
        start = _window_start(given, slot.stop, day, start, slot.minutes)
        if start < 0 or start > slot.high:
            return -1 if i == 0 and drive == 0 else 0
        end, at = start + slot.minutes, slot.site
    if p == count:
        return 1 if end + given.drive[at, base] <= room.out[CLOSES] else 0
    after = room.asis[p]
    return 1 if end + given.drive[at, after.origin] <= after.last else 0
