"""Departs as late as keeps the return."""

from dispatch.planner.core.forward import forward
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import longest
from dispatch.planner.core.place import outside
from dispatch.planner.core.shapes import (
    BACK,
    CALM,
    DEPART,
    FAR,
    REST,
    Given,
    Room,
    Rows,
    Way,
    Week,
)


@fast
def latest(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    way: Way,
    back: int,
    r: int,
) -> int:
    """Return the latest departure that should still be back by then."""
    host, day, _ = way
    for i in range(count):
        slots[i].floor = FAR  # here: the latest start that ties leave
    arrive_by = back
    for k in range(count):
        i = count - 1 - k
        start, minutes = slots[i].start, slots[i].end - slots[i].start
        leave = min(_leave(given, slots, i + 1, arrive_by, host, day), slots[i].floor)
        by = _latest_start(given, room, slots, i, day, leave - minutes)
        if slots[i].stop >= 0 and slots[i].open and by > start:
            stop = slots[i].stop
            if outside(given, week, stop, r, by, by + minutes) != by:
                by = start
        if host == 2 * i + 1:
            by = min(by, given.days[day].rest_to - given.rest)
        arrive_by = max(start, by)
        if slots[i].tied:
            _push_back(given, room, slots, i, arrive_by)
    return _leave(given, slots, 0, arrive_by, host, day)


@fast
def _latest_start(
    given: Given, room: Room, slots: Rows, i: int, day: int, by: int
) -> int:
    stop = slots[i].stop
    by = min(by, slots[i].high)
    if stop < 0:
        return by
    if given.stages[stop].pin >= 0:
        return slots[i].start
    row = stop * given.n_days + day
    minutes, found = slots[i].end - slots[i].start, -1
    for w in range(given.window_at[row], given.window_at[row + 1]):
        last = min(given.windows[w].end - minutes, by)
        if last >= given.windows[w].start:
            found = max(found, last)
    if room.out[CALM] == 1:
        return _calm_last(given, slots, i, day, found)
    return found


@fast
def _calm_last(given: Given, slots: Rows, i: int, day: int, last: int) -> int:
    """Return a latest start no farther than that with no risk, near what people were told."""
    stage, start = given.stages[slots[i].stop], slots[i].start
    if stage.told >= 0 and stage.told_day == day:
        last = min(last, max(start, stage.told + given.tolerance))
    for k in range(stage.risks[0], stage.risks[1]):
        risk = given.risks[k]
        if risk.cents > 0 and risk.start <= last and start < risk.start:
            last = min(last, risk.start - 1)
    return last


@fast
def _push_back(given: Given, room: Room, slots: Rows, i: int, start: int) -> None:
    """Let what stop i waits for end early enough."""
    stop = slots[i].stop
    if stop < 0:
        for j in range(i):
            slots[j].floor = min(slots[j].floor, slots[j].end)
        return
    stage = given.stages[stop]
    for b in range(stage.before[0], stage.before[1]):
        j = room.at[given.before[b].stage]
        if 0 <= j < i:
            lag = longest(given.lags, given.steps, given.before[b].low)
            slots[j].floor = min(slots[j].floor, start - lag)
    for m in range(stage.mates[0], stage.mates[1]):
        j = room.at[given.mates[m]]
        if 0 <= j < i:
            hold = given.stages[given.mates[m]].hold
            lag = longest(given.lags, given.steps, hold)
            slots[j].floor = min(slots[j].floor, start - lag)
    if stage.stays[1] > stage.stays[0]:
        for j in range(i):
            if slots[j].stop >= 0 and slots[j].tied:
                slots[j].floor = min(slots[j].floor, slots[j].end)


@fast
def _leave(given: Given, slots: Rows, i: int, by: int, host: int, day: int) -> int:
    """Return the latest minute to set off towards stop i so as to be there by then."""
    drive = slots[i].drive
    if host != 2 * i:
        return by - drive
    rest, opens = given.rest, given.days[day].rest_from
    closes = given.days[day].rest_to
    start = min(by - drive - rest, closes - rest)
    if start >= opens:
        return start
    return min(by - rest, closes - rest) - drive


@fast
def depart_late(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    way: Way,
    r: int,
    later: int,
) -> None:
    """Depart then if that keeps the return; the timing as soon as possible stays if not."""
    back = room.out[BACK]
    for i in range(count):
        slots[i].floor = 0
    if later <= room.out[DEPART]:
        return
    rest = room.out[REST]
    for i in range(count):
        slots[i].soon, slots[i].soon_end = slots[i].start, slots[i].end
    again = forward(given, week, room, slots, (0, count), later, way, r)
    if 0 <= again <= back:
        room.out[DEPART], room.out[BACK] = later, again
        return
    room.out[REST] = rest
    for i in range(count):
        slots[i].start, slots[i].end = slots[i].soon, slots[i].soon_end
