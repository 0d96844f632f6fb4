"""Times stops as soon as possible: when a team may be out, drives, lengths, the break on the way."""

from dispatch.planner.core.chain import comes_from, comes_to
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import tow_minutes, trailer_of
from dispatch.planner.core.place import place
from dispatch.planner.core.shapes import (
    CLOSES,
    LATE_FLOOR,
    LATE_STOP,
    OPENS,
    REST,
    SINCE,
    Given,
    Ints,
    Room,
    Rows,
    Span,
    Way,
    Week,
)


@fast
def hours(given: Given, week: Week, room: Room, r: int, team: Ints, size: int) -> bool:
    """Write when the team may be out in that van-day; False when somebody is off."""
    vans = given.n_vans
    day, van = r // vans, r % vans
    opens, closes = given.days[day].opens, given.days[day].closes
    if given.vans[van].on[day] < 0:
        return False
    opens = max(opens, given.vans[van].on[day])
    closes = min(closes, given.vans[van].off[day])
    for k in range(size):
        person = given.people[team[k]]
        if person.on[day] < 0:
            return False
        opens, closes = max(opens, person.on[day]), min(closes, person.off[day])
    if week.routes[r].lock == 1:
        opens = week.routes[r].depart
    else:
        opens = max(opens, given.now, room.out[SINCE])
    room.out[OPENS], room.out[CLOSES] = opens, closes
    return opens <= closes


@fast
def sites(given: Given, week: Week, slots: Rows, count: int) -> None:
    """Write where each stop begins and where it leaves the van."""
    for i in range(count):
        stop = slots[i].stop
        if stop < 0:
            slots[i].origin, slots[i].site = (
                comes_from(week, stop),
                comes_to(week, stop),
            )
        else:
            slots[i].origin = slots[i].site = given.stages[stop].place


@fast
def drives(given: Given, slots: Rows, count: int, base: int) -> None:
    """Write the minutes of driving to each stop, and home again."""
    at = base
    for i in range(count):
        slots[i].drive = given.drive[at, slots[i].origin]
        at = slots[i].site
    slots[count].drive = given.drive[at, base]


@fast
def lengths(given: Given, slots: Rows, span: Span, size: int) -> bool:
    """Write each stop's minutes for a team of that size; False when it is too small."""
    for i in range(span[0], span[1]):
        stop = slots[i].stop
        if stop < 0:
            way = slots[i].origin, slots[i].site
            slots[i].minutes = tow_minutes(given, trailer_of(stop), *way)
        else:
            slots[i].minutes = given.stages[stop].minutes[size]
            if slots[i].minutes < 0:
                return False
    return True


@fast
def arrive(given: Given, room: Room, slots: Rows, i: int, free: int, way: Way) -> int:
    """Return the arrival at stop i, the break taken on the way if it is here; -1 if it cannot be."""
    host, day, open_day = way
    drive = slots[i].drive
    if host == 2 * i:
        rest = given.rest
        least, closes = given.days[day].rest_from, given.days[day].rest_to
        if open_day:
            least = max(least, given.now)
        start = max(free + drive, least)
        if start + rest <= closes:
            room.out[REST] = start
            return start + rest
        start = max(free, least)
        if start + rest <= closes:
            room.out[REST] = start
            return start + rest + drive
        return -1
    if host == -2:  # a break already fixed
        taken = room.out[REST]
        until = taken + given.rest
        if free <= taken < free + drive:
            return until + drive
        if free <= taken:
            return max(free + drive, until)
    return free + drive


@fast
def forward(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    span: Span,
    free: int,
    way: Way,
    r: int,
) -> int:
    """Time the stops of a span as soon as possible; return the minute back at base, or -1."""
    host, day, open_day = way
    for _ in range(4):
        room.out[LATE_STOP] = -1
        at, done = free, True
        for i in range(span[0], span[1]):
            at = arrive(given, room, slots, i, at, way)
            if at < 0:
                return -1
            minutes = slots[i].minutes
            at = max(at, slots[i].low, slots[i].floor)
            if open_day:
                at = max(at, given.now)
            inside = host == 2 * i + 1
            if inside:
                at = max(at, given.days[day].rest_from - minutes)
                minutes += given.rest
            start = place(given, week, room, slots, i, (span[1], r, day), at, minutes)
            if start < 0:
                done = False
                break
            if inside:
                rest = max(start, given.days[day].rest_from)
                until = rest + given.rest
                if until > start + minutes or until > given.days[day].rest_to:
                    return -1
                room.out[REST] = rest
            slots[i].start, slots[i].end = start, start + minutes
            at = start + minutes
        if done:
            return arrive(given, room, slots, span[1], at, way)
        late = room.out[LATE_STOP]
        if late < span[0]:
            return -1
        slots[late].floor = max(room.out[LATE_FLOOR], slots[late].floor + 1)
    return -1
