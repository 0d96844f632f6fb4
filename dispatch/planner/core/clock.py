"""Times a van-day: as soon as possible, the break where it costs least, then off as late as may be."""

from dispatch.planner.core.forward import forward, hours, lengths
from dispatch.planner.core.jit import fast
from dispatch.planner.core.late import depart_late, latest
from dispatch.planner.core.price import day_cents, trouble_cents
from dispatch.planner.core.shapes import (
    BACK,
    CALM,
    CLOSES,
    DEPART,
    FAR,
    OPENS,
    REST,
    Given,
    Ints,
    Room,
    Rows,
    Span,
    Week,
)


@fast
def time_day(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    r: int,
    team: Ints,
    size: int,
) -> bool:
    """Time a van-day's stops for a team; the times go into the slots, the rest into `room.out`.

    Where that starts something at a risk, or far from what was told, waiting it out is tried too.
    """
    room.out[CALM] = 0
    done = _timed(given, week, room, slots, count, r, team, size)
    day = r // given.n_vans
    if not done or not _troubled(given, slots, count, day):
        return done
    cents = day_cents(given, week, room, slots, count, r, team, size)
    room.out[CALM] = 1
    if _timed(given, week, room, slots, count, r, team, size):
        if day_cents(given, week, room, slots, count, r, team, size) < cents:
            return True
    room.out[CALM] = 0
    return _timed(given, week, room, slots, count, r, team, size)


@fast
def _troubled(given: Given, slots: Rows, count: int, day: int) -> bool:
    """Whether a start of the timing made last has a cost that another start has not."""
    for i in range(count):
        stop = slots[i].stop
        if stop >= 0 and trouble_cents(given, stop, day, slots[i].start) > 0:
            return True
    return False


@fast
def _timed(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    r: int,
    team: Ints,
    size: int,
) -> bool:
    """Time a van-day's stops in the mode that `room.out` names."""
    day, held = r // given.n_vans, week.routes[r].held
    open_day = week.routes[r].lock == 1
    if not hours(given, week, room, r, team, size):
        return False
    if not lengths(given, slots, (held, count), size):
        return False
    free = room.out[OPENS]
    for i in range(count):
        slots[i].floor = 0
    for i in range(held):
        slots[i].start = week.routes[r].start[i]
        slots[i].end = week.routes[r].end[i]
        free = slots[i].end
    taken = week.routes[r].taken if open_day else -1
    host = -2 if taken >= 0 else -1
    room.out[REST] = taken
    way = (host, day, open_day)
    back = forward(given, week, room, slots, (held, count), free, way, r)
    if back < 0 or back > room.out[CLOSES]:
        return False
    room.out[DEPART], room.out[BACK] = room.out[OPENS], back
    least = room.out[BACK] - given.rest_after
    if open_day:
        if (back - room.out[DEPART] > given.rest_after) == (taken >= 0):
            return True
        if taken >= 0:
            return False
    else:
        for i in range(count):
            slots[i].soon, slots[i].soon_end = slots[i].start, slots[i].end
        later = latest(given, week, room, slots, count, way, back, r)
        if later >= least:
            depart_late(given, week, room, slots, count, way, r, later)
            if room.out[BACK] - room.out[DEPART] <= given.rest_after:
                return True
            for i in range(count):
                slots[i].start, slots[i].end = slots[i].soon, slots[i].soon_end
    return _with_rest(given, week, room, slots, count, r)


@fast
def _with_rest(
    given: Given, week: Week, room: Room, slots: Rows, count: int, r: int
) -> bool:
    """Try the break wherever it could fall; keep the latest of those with the shortest time out."""
    day, held = r // given.n_vans, week.routes[r].held
    open_day = week.routes[r].lock == 1
    for i in range(count):
        slots[i].soon, slots[i].soon_end = slots[i].start, slots[i].end
        slots[i].floor = 0
    opens, closes = given.days[day].rest_from, given.days[day].rest_to
    last, best, shortest = closes - given.rest, -1, FAR
    free = slots[held - 1].end if held else room.out[OPENS]
    begun = free
    for i in range(held, count + 1):
        start = slots[i].soon if i < count else FAR
        if start >= opens and free <= last:
            out = _host(given, week, room, slots, (i, count), begun, 2 * i, r)
            if out <= shortest:
                best, shortest = 2 * i, out
        if i < count:
            stop = slots[i].stop
            if stop >= 0 and given.stages[stop].pausable:
                if start <= last and slots[i].soon_end + given.rest >= opens:
                    host = 2 * i + 1
                    out = _host(given, week, room, slots, (i, count), begun, host, r)
                    if out <= shortest:
                        best, shortest = host, out
            free = slots[i].soon_end
            begun = free
    if best < 0:
        return False
    way = (best, day, open_day)
    start_at = slots[held - 1].soon_end if held else room.out[OPENS]
    for i in range(held):
        slots[i].start, slots[i].end = slots[i].soon, slots[i].soon_end
    for i in range(count):
        slots[i].floor = 0
    back = forward(given, week, room, slots, (held, count), start_at, way, r)
    if back < 0 or back > room.out[CLOSES]:
        return False
    room.out[BACK], room.out[DEPART] = back, room.out[OPENS]
    if not open_day:
        later = latest(given, week, room, slots, count, way, back, r)
        depart_late(given, week, room, slots, count, way, r, later)
    return room.out[BACK] - room.out[DEPART] > given.rest_after


@fast
def _host(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    span: Span,
    free: int,
    host: int,
    r: int,
) -> int:
    """Return the time out with the break there, the stops before it as they are; FAR for never."""
    day, open_day = r // given.n_vans, week.routes[r].lock == 1
    for j in range(span[0]):
        slots[j].start, slots[j].end = slots[j].soon, slots[j].soon_end
    way = (host, day, open_day)
    back = forward(given, week, room, slots, span, free, way, r)
    if back < 0 or back > room.out[CLOSES]:
        return FAR
    if open_day:
        return back - room.out[OPENS]
    off = latest(given, week, room, slots, span[1], way, back, r)
    for j in range(span[1]):
        slots[j].floor = 0
    return back - max(off, room.out[OPENS])
