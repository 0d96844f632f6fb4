"""What the other van-days leave a stop, and which stops of one van-day have to do with each other."""

from dispatch.planner.core.chain import number_of
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at, trailer_of
from dispatch.planner.core.shapes import FAR, Given, Room, Rows, Week
from dispatch.planner.core.stands import elsewhere, stay_after


@fast
def box(given: Given, week: Week, slots: Rows, i: int, r: int) -> bool:
    """Write the least and the last start that the other van-days leave a stop; False for none."""
    stop = slots[i].stop
    slots[i].low, slots[i].high, slots[i].open = 0, FAR, 0
    if stop < 0:
        return _box_move(given, week, slots, i, r)
    stage = given.stages[stop]
    low, high, near = 0, FAR, 0
    for b in range(stage.before[0], stage.before[1]):
        link = given.before[b]
        other = week.seen[link.stage]
        if other.route < 0 or other.route == r:
            continue
        least = lag_at(given.lags, given.steps, link.low, other.end)
        if link.same or least < 0:
            return False
        low = max(low, other.end + least)
        if link.high >= 0:
            most = lag_at(given.lags, given.steps, link.high, other.end)
            if most < 0:
                return False
            high = min(high, other.end + most)
    for b in range(stage.then[0], stage.then[1]):
        other = week.seen[given.then[b].stage]
        if other.route >= 0 and other.route != r:
            if given.then[b].same:
                return False
            near = 1
            high = min(high, other.start - stage.quickest)
    for m in range(stage.mates[0], stage.mates[1]):
        route = week.seen[given.mates[m]].route
        if route >= 0 and route != r:
            near = 1
    if given.lags[stage.hold].flat < 0:
        near = 1
    for k in range(week.seen[stop].stands):
        near = 1
        trailer, number = week.seen[stop].trailer[k], week.seen[stop].number[k]
        chain = week.chains[trailer]
        if number > 0 and elsewhere(chain.route[number], r):
            low = max(low, chain.end[number])
        then = chain.next[number]
        if then >= 0 and elsewhere(chain.route[then], r):
            high = min(high, chain.start[then] - stage.quickest)
    slots[i].low, slots[i].high, slots[i].open = low, high, near
    return low <= high


@fast
def _box_move(given: Given, week: Week, slots: Rows, i: int, r: int) -> bool:
    stop = slots[i].stop
    trailer, number = trailer_of(stop), number_of(stop)
    chain, row = week.chains[trailer], given.trailers[trailer]
    prior, then = chain.prior[number], chain.next[number]
    origin, to = chain.place[prior], chain.place[number]
    minutes = row.hook - (-given.drive[origin, to] * row.percent // 100)
    low, high = 0, FAR
    if prior > 0 and elsewhere(chain.route[prior], r):
        low = max(low, chain.end[prior])
    if then >= 0 and elsewhere(chain.route[then], r):
        high = min(high, chain.start[then] - minutes)
    for g in range(chain.many):
        user = chain.guests[g]
        other = week.seen[user]
        if other.route == r:
            continue
        for k in range(other.stands):
            if other.trailer[k] != trailer:
                continue
            if chain.rank[other.number[k]] < chain.rank[number]:
                stay = stay_after(given, week, user, trailer, -1, other.end)
                if stay < 0:
                    return False
                low = max(low, other.end + stay)
            else:
                high = min(high, other.start - minutes)
    slots[i].low, slots[i].high = low, high
    return low <= high


@fast
def moves_in(slots: Rows, count: int) -> bool:
    """Whether a trailer is moved among these stops."""
    moves = False
    for i in range(count):
        moves = moves or slots[i].stop < 0
    return moves


@fast
def tie(
    given: Given,
    week: Week,
    room: Room,
    slots: Rows,
    count: int,
    moves: bool,
    total: int,
) -> None:
    """Mark the stops that have to do with another of the `total` stops of this van-day, all marked."""
    for i in range(count):
        stop = slots[i].stop
        tied = 0
        if stop >= 0:
            stage = given.stages[stop]
            if week.seen[stop].stands > 0 and (moves or total > 1):
                tied = 1
            for b in range(stage.before[0], stage.before[1]):
                if room.at[given.before[b].stage] >= 0:
                    tied = 1
            for b in range(stage.then[0], stage.then[1]):
                if room.at[given.then[b].stage] >= 0:
                    tied = 1
            for m in range(stage.mates[0], stage.mates[1]):
                if room.at[given.mates[m]] >= 0:
                    tied = 1
        elif moves:
            tied = 1
        slots[i].tied = tied
