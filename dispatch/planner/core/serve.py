"""Puts a block of stages in with the trailers it needs: where one stands, or by a tow of its own."""

from dispatch.planner.core.dice import roll
from dispatch.planner.core.insert import scan
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import move_code
from dispatch.planner.core.places import put_best
from dispatch.planner.core.shapes import CHAIN, NEAREST, STANDS, WAYS, Given, Room, Week

NOWHERE = 1e15


@fast
def insert(
    given: Given, week: Week, room: Room, many: int, eager: float, limit: float
) -> bool:
    """Put the stages of `room.block` into one van-day where they cost least, if less than the limit."""
    wants = _wants(given, room, many)
    if wants < 0:
        return False
    if wants == 0:
        _fill(room, many, 0)
        if scan(given, week, room, many, eager, limit) < limit:
            put_best(given, week, room)
            return True
        return False
    return _served(given, week, room, many, wants, eager, limit)


@fast
def _served(
    given: Given,
    week: Week,
    room: Room,
    many: int,
    wants: int,
    eager: float,
    limit: float,
) -> bool:
    """Try each way to have the trailers there."""
    for w in range(wants):
        room.turns[w, 0] = _ways(given, week, room, w)
        room.turns[w, 1] = 0
        if room.turns[w, 0] == 0:
            return False
    best = limit
    while True:
        moves = _apply(given, week, room, many, wants, 1)
        if moves >= 0:
            _fill(room, many, moves)
            found = scan(given, week, room, many + moves, eager, best)
            if found < best:
                best = found
                for w in range(wants):
                    room.turns[w, 2] = room.turns[w, 1]
            _undo(week, room, many, wants, 1)
        w = wants - 1
        while w >= 0 and room.turns[w, 1] + 1 == room.turns[w, 0]:
            room.turns[w, 1] = 0
            w -= 1
        if w < 0:
            break
        room.turns[w, 1] += 1
    if best >= limit:
        return False
    _apply(given, week, room, many, wants, 2)
    put_best(given, week, room)
    return True


@fast
def _wants(given: Given, room: Room, many: int) -> int:
    """Write which kinds the block needs where; return how many, -1 for more than there is room for."""
    wants = 0
    for i in range(many):
        stage = given.stages[room.block[i]]
        for s in range(stage.stays[0], stage.stays[1]):
            kind, known = given.stays[s].kind, False
            for w in range(wants):
                if room.wants[w, 0] == kind and room.wants[w, 1] == stage.place:
                    known = True
            if known:
                continue
            if wants >= 2 * STANDS:
                return -1
            room.wants[wants, 0], room.wants[wants, 1] = kind, stage.place
            wants += 1
    return wants


@fast
def _ways(given: Given, week: Week, room: Room, w: int) -> int:
    """Write the stands where one is already, then a new move of each of the nearest of the kind."""
    kind, place, found = room.wants[w, 0], room.wants[w, 1], 0
    for trailer in range(given.n_trailers):
        if given.trailers[trailer].kind != kind:
            continue
        chain = week.chains[trailer]
        for number in range(chain.count):
            if chain.place[number] == place and found < WAYS - NEAREST:
                _way(room, w, found, trailer, number, 0)
                found += 1
    for i in range(_nearest(given, week, room, kind, place)):
        trailer = room.movers[i]
        _way(room, w, found, trailer, week.chains[trailer].count, 1)
        found += 1
    return found


@fast
def _nearest(given: Given, week: Week, room: Room, kind: int, place: int) -> int:
    """Write the trailers of a kind that stand last nearest to a place; return how many."""
    found = 0
    for trailer in range(given.n_trailers):
        chain = week.chains[trailer]
        at = chain.place[chain.count - 1]
        if given.trailers[trailer].kind != kind or at == place or chain.count >= CHAIN:
            continue
        far = int(given.drive[at, place] * (1 + roll(week.dice)))
        if found == NEAREST and far >= room.list[found - 1]:
            continue
        m = found if found < NEAREST else NEAREST - 1
        while m > 0 and room.list[m - 1] > far:
            room.list[m], room.movers[m] = room.list[m - 1], room.movers[m - 1]
            m -= 1
        room.list[m], room.movers[m] = far, trailer
        found = min(found + 1, NEAREST)
    return found


@fast
def _way(room: Room, w: int, i: int, trailer: int, number: int, new: int) -> None:
    room.ways[w, i, 0], room.ways[w, i, 1] = trailer, number
    room.ways[w, i, 2] = new


@fast
def _apply(
    given: Given, week: Week, room: Room, many: int, wants: int, turn: int
) -> int:
    """Lay a choice of ways: chains grow, stages get their stands; return the moves, -1 for a clash."""
    moves = 0
    for w in range(wants):
        way = room.turns[w, turn]
        trailer, new = room.ways[w, way, 0], room.ways[w, way, 2]
        for v in range(w):
            if room.ways[v, room.turns[v, turn], 0] == trailer:
                _undo(week, room, 0, w, turn)
                return -1
        if new == 1:
            chain = week.chains[trailer]
            chain.place[chain.count] = room.wants[w, 1]
            chain.route[chain.count] = -1
            chain.count += 1
            room.more[moves].stop = move_code(trailer, chain.count - 1)
            moves += 1
    for i in range(many):
        _stand(given, week, room, room.block[i], wants, turn)
    return moves


@fast
def _stand(
    given: Given, week: Week, room: Room, stop: int, wants: int, turn: int
) -> None:
    stage, seen = given.stages[stop], week.seen[stop]
    seen.stands = 0
    for s in range(stage.stays[0], stage.stays[1]):
        for w in range(wants):
            if room.wants[w, 0] != given.stays[s].kind:
                continue
            if room.wants[w, 1] != stage.place:
                continue
            way = room.turns[w, turn]
            seen.trailer[seen.stands] = room.ways[w, way, 0]
            seen.number[seen.stands] = room.ways[w, way, 1]
            seen.stands += 1
            break


@fast
def _undo(week: Week, room: Room, many: int, wants: int, turn: int) -> None:
    for w in range(wants):
        way = room.turns[w, turn]
        if room.ways[w, way, 2] == 1:
            week.chains[room.ways[w, way, 0]].count -= 1
    for i in range(many):
        week.seen[room.block[i]].stands = 0


@fast
def _fill(room: Room, many: int, moves: int) -> None:
    for i in range(many):
        room.more[moves + i].stop = room.block[i]


@fast
def tow_ahead(given: Given, week: Week, room: Room, stage: int, eager: float) -> bool:
    """Bring a trailer the stage needs to its place on a trip of its own, the cheapest."""
    row, best = given.stages[stage], NOWHERE
    pick_trailer = -1
    for s in range(row.stays[0], row.stays[1]):
        many = _nearest(given, week, room, given.stays[s].kind, row.place)
        for i in range(many):
            trailer = room.movers[i]
            chain = week.chains[trailer]
            chain.place[chain.count], chain.route[chain.count] = row.place, -1
            chain.count += 1
            room.more[0].stop = move_code(trailer, chain.count - 1)
            found = scan(given, week, room, 1, eager, best)
            chain.count -= 1
            if found < best:
                best, pick_trailer = found, trailer
    if pick_trailer < 0:
        return False
    chain = week.chains[pick_trailer]
    chain.place[chain.count], chain.route[chain.count] = row.place, -1
    chain.count += 1
    put_best(given, week, room)
    return True
