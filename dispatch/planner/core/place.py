"""When a stop may start: its windows, what it waits for, its boat, its trailers."""

from dispatch.planner.core.chain import number_of
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at, trailer_of
from dispatch.planner.core.shapes import (
    CALM,
    FAR,
    LATE_FLOOR,
    LATE_STOP,
    Given,
    Room,
    Rows,
    Week,
    Where,
)
from dispatch.planner.core.stands import elsewhere, stay_after


@fast
def place(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    i: int,
    where: Where,
    at: int,
    minutes: int,
) -> int:
    """Return the earliest start of stop i from `at` on, -1 when there is none."""
    count, r, day = where
    stop = slots[i].stop
    if stop < 0:
        start = _after_tied_move(given, week, slots, i, count, at)
        return start if start <= slots[i].high else -1
    stage = given.stages[stop]
    row = stop * given.n_days + day
    while True:
        start = -1
        for w in range(given.window_at[row], given.window_at[row + 1]):
            first = max(at, given.windows[w].start)
            if first + minutes <= given.windows[w].end:
                start = first
                break
        if start >= 0 and stage.pin >= 0:
            start = stage.pin if start <= stage.pin else -1
        if start < 0 or start > slots[i].high:
            return -1
        if room.out[CALM] == 1:
            calm = calm_start(given, stop, start, day)
            if calm > start:
                at = calm
                continue
        later = start
        if slots[i].tied:
            later = _tied(given, week, room, slots, i, count, start)
        if later == start and slots[i].open:
            later = outside(given, week, stop, r, start, start + minutes)
        if later < 0:
            return -1
        if later == start:
            return start
        at = later


@fast
def calm_start(given: Given, stop: int, start: int, day: int) -> int:
    """Return the first start from there on with no risk, and no sooner than people were told."""
    stage = given.stages[stop]
    if stage.told >= 0 and stage.told_day == day:
        start = max(start, stage.told - given.tolerance)
    moved = True
    while moved:
        moved = False
        for k in range(stage.risks[0], stage.risks[1]):
            risk = given.risks[k]
            if risk.cents > 0 and risk.start <= start < risk.end:
                start, moved = risk.end, True
    return start


@fast
def _tied(
    given: Given, week: Week, room: Room, slots: Rows, i: int, count: int, start: int
) -> int:
    """Return the earliest start by the stops of this van-day, -1 for a wrong order or a gap too long."""
    stage = given.stages[slots[i].stop]
    need, late, floor = start, -1, 0
    for b in range(stage.before[0], stage.before[1]):
        j = room.at[given.before[b].stage]
        if j < 0:
            continue
        if j > i:
            return -1
        end = slots[j].end
        low = lag_at(given.lags, given.steps, given.before[b].low, end)
        if low < 0:
            return -1
        need = max(need, end + low)
    for b in range(stage.before[0], stage.before[1]):
        j = room.at[given.before[b].stage]
        if 0 <= j < i and given.before[b].high >= 0:
            end = slots[j].end
            high = lag_at(given.lags, given.steps, given.before[b].high, end)
            if high < 0:
                return -1
            if need > end + high:
                late, floor = j, need - high - (end - slots[j].start)
    for b in range(stage.then[0], stage.then[1]):
        if 0 <= room.at[given.then[b].stage] < i:
            return -1
    for m in range(stage.mates[0], stage.mates[1]):
        mate = given.mates[m]
        j = room.at[mate]
        if 0 <= j < i:
            hold = lag_at(
                given.lags, given.steps, given.stages[mate].hold, slots[j].end
            )
            if hold < 0:
                return -1
            need = max(need, slots[j].end + hold)
    for k in range(week.seen[slots[i].stop].stands):
        need = _by_trailer(given, week, slots, i, count, k, need)
        if need < 0:
            return -1
    if late >= 0 and need == start:
        room.out[LATE_STOP], room.out[LATE_FLOOR] = late, floor
        return -1
    return need


@fast
def _by_trailer(
    given: Given, week: Week, slots: Rows, i: int, count: int, k: int, need: int
) -> int:
    """Keep to a trailer's moves in this van-day, and to one boat at a time under it."""
    stop = slots[i].stop
    trailer, number = week.seen[stop].trailer[k], week.seen[stop].number[k]
    rank, boat = week.chains[trailer].rank, given.stages[stop].boat
    for j in range(count):
        other = slots[j].stop
        if j == i:
            continue
        if other < 0:
            if trailer_of(other) != trailer:
                continue
            moved = rank[number_of(other)]
            if (j < i and moved > rank[number]) or (j > i and moved <= rank[number]):
                return -1
        elif j < i and given.stages[other].boat != boat:
            stay = stay_after(given, week, other, trailer, number, slots[j].end)
            if stay == -2:
                return -1
            if stay >= 0:
                need = max(need, slots[j].end + stay)
    return need


@fast
def _after_tied_move(
    given: Given, week: Week, slots: Rows, i: int, count: int, at: int
) -> int:
    """Return the earliest start of a move by the stops of this van-day; FAR for a wrong order."""
    stop = slots[i].stop
    trailer, number = trailer_of(stop), number_of(stop)
    rank = week.chains[trailer].rank
    for j in range(count):
        other = slots[j].stop
        if j == i:
            continue
        if other < 0:
            if trailer_of(other) == trailer:
                if (j < i) != (rank[number_of(other)] < rank[number]):
                    return FAR
            continue
        for k in range(week.seen[other].stands):
            if week.seen[other].trailer[k] != trailer:
                continue
            if (j < i) != (rank[week.seen[other].number[k]] < rank[number]):
                return FAR
            if j < i:
                stay = stay_after(given, week, other, trailer, -1, slots[j].end)
                if stay < 0:
                    return FAR
                at = max(at, slots[j].end + stay)
    return at


@fast
def outside(given: Given, week: Week, stop: int, r: int, start: int, end: int) -> int:
    """Return the earliest start by the other van-days, `start` itself when it may be, -1 never."""
    stage = given.stages[stop]
    hold = lag_at(given.lags, given.steps, stage.hold, end)
    if hold < 0:
        return -1
    need = start
    for m in range(stage.mates[0], stage.mates[1]):
        mate = week.seen[given.mates[m]]
        if mate.route >= 0 and mate.route != r:
            if start < mate.held and end + hold > mate.start:
                need = max(need, mate.held, start + 1)
    for b in range(stage.then[0], stage.then[1]):
        link = given.then[b]
        other = week.seen[link.stage]
        if other.route < 0 or other.route == r:
            continue
        low = lag_at(given.lags, given.steps, link.low, end)
        if low < 0 or end + low > other.start:
            return -1
        if link.high >= 0:
            high = lag_at(given.lags, given.steps, link.high, end)
            if high < 0:
                return -1
            need = max(need, start + other.start - end - high)
    for k in range(week.seen[stop].stands):
        need = _stand_outside(given, week, stop, r, k, start, end, need)
        if need < 0:
            return -1
    return need


@fast
def _stand_outside(
    given: Given,
    week: Week,
    stop: int,
    r: int,
    k: int,
    start: int,
    end: int,
    need: int,
) -> int:
    trailer, number = week.seen[stop].trailer[k], week.seen[stop].number[k]
    lag = given.stays[given.stages[stop].stays[0] + k].lag
    stay = lag_at(given.lags, given.steps, lag, end)
    if stay < 0:
        return -1
    chain = week.chains[trailer]
    then = chain.next[number]
    if then >= 0 and elsewhere(chain.route[then], r):
        if end + stay > chain.start[then]:
            return -1
    for g in range(chain.many):
        user = chain.guests[g]
        other = week.seen[user]
        if user == stop or other.route == r:
            continue
        if given.stages[user].boat == given.stages[stop].boat:
            continue
        theirs = stay_after(given, week, user, trailer, number, other.end)
        if theirs == -1:
            continue
        if start < other.end + max(theirs, 0) and end + stay > other.start:
            need = max(need, other.end + max(theirs, 0), start + 1)
    return need
