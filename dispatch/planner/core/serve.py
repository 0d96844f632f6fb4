"""Puts a block of stages in with the trailers it needs: where one stands, or moved there for it."""

from dispatch.planner.core.between import has_gap, move_to, take_back
from dispatch.planner.core.dice import roll
from dispatch.planner.core.insert import scan
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import move_code
from dispatch.planner.core.places import put_best
from dispatch.planner.core.shapes import (
    GUESTS,
    MOVERS,
    NEAREST,
    STANDS,
    STOPS,
    WAYS,
    Given,
    Room,
    Week,
)

NOWHERE = 1e15
STAND = 3  # where `room.turns` holds the stand that a way leads to


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
            dearer = room.dearer
            mark = best - dearer
            found = scan(given, week, room, many + moves, eager, mark)
            if found < mark:
                best = found + dearer
                for w in range(wants):
                    room.turns[w, 2] = room.turns[w, 1]
            _undo(given, week, room, many, wants, 1)
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
            room.wants[wants, 2] = room.block[i]
            wants += 1
    return wants


@fast
def _serves(given: Given, week: Week, trailer: int, kind: int) -> bool:
    """Whether a trailer is of a kind, and could serve a van-day's stops more."""
    if week.chains[trailer].many > GUESTS - STOPS:
        return False
    return given.trailers[trailer].kind == kind


@fast
def _ways(given: Given, week: Week, room: Room, w: int) -> int:
    """Write the stands where one is already, then those that a new move may start from."""
    kind, place, found = room.wants[w, 0], room.wants[w, 1], 0
    for trailer in range(given.n_trailers):
        if not _serves(given, week, trailer, kind):
            continue
        chain = week.chains[trailer]
        for number in range(chain.count):
            if chain.place[number] == place and found < WAYS - MOVERS:
                _way(room, w, found, trailer, number, 0)
                found += 1
    for i in range(_movers(given, week, room, w)):
        _way(room, w, found, room.movers[i, 0], room.movers[i, 1], 1)
        found += 1
    return found


@fast
def _movers(given: Given, week: Week, room: Room, w: int) -> int:
    """Write which trailers may be moved to a want after which stand; return how many."""
    kind, place = room.wants[w, 0], room.wants[w, 1]
    found = _nearest(given, week, room, kind, place)
    for trailer in range(given.n_trailers):
        if not _serves(given, week, trailer, kind):
            continue
        chain = week.chains[trailer]
        after = 0
        while chain.next[after] >= 0 and found < MOVERS:
            if has_gap(given, week, trailer, after, place, room.wants[w, 2]):
                room.movers[found, 0], room.movers[found, 1] = trailer, after
                found += 1
            after = chain.next[after]
    return found


@fast
def _nearest(given: Given, week: Week, room: Room, kind: int, place: int) -> int:
    """Write the trailers of a kind that stand last nearest to a place; return how many."""
    found = 0
    for trailer in range(given.n_trailers):
        chain = week.chains[trailer]
        at = chain.place[chain.last]
        if at == place or not _serves(given, week, trailer, kind):
            continue
        far = int(given.drive[at, place] * (1 + roll(week.dice)))
        if found == NEAREST and far >= room.list[found - 1]:
            continue
        m = found if found < NEAREST else NEAREST - 1
        while m > 0 and room.list[m - 1] > far:
            room.list[m] = room.list[m - 1]
            room.movers[m, 0] = room.movers[m - 1, 0]
            room.movers[m, 1] = room.movers[m - 1, 1]
            m -= 1
        room.list[m] = far
        room.movers[m, 0], room.movers[m, 1] = trailer, chain.last
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
    moves, room.dearer = 0, 0.0
    for w in range(wants):
        way = room.turns[w, turn]
        trailer, number = room.ways[w, way, 0], room.ways[w, way, 1]
        fine = True
        for v in range(w):
            fine = fine and room.ways[v, room.turns[v, turn], 0] != trailer
        if fine and room.ways[w, way, 2] == 1:
            number = move_to(given, week, room, trailer, number, w)
            fine = number >= 0
            if fine:
                room.more[moves].stop = move_code(trailer, number)
                moves += 1
        if not fine:
            _undo(given, week, room, 0, w, turn)
            return -1
        room.turns[w, STAND] = number
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
            seen.number[seen.stands] = room.turns[w, STAND]
            seen.stands += 1
            break


@fast
def _undo(
    given: Given, week: Week, room: Room, many: int, wants: int, turn: int
) -> None:
    for v in range(wants):
        w = wants - 1 - v
        way = room.turns[w, turn]
        if room.ways[w, way, 2] == 1:
            trailer, number = room.ways[w, way, 0], room.turns[w, STAND]
            take_back(given, week, room, trailer, number, w)
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
    trailer, after = -1, -1
    room.wants[0, 1], room.wants[0, 2] = row.place, stage
    for s in range(row.stays[0], row.stays[1]):
        room.wants[0, 0] = given.stays[s].kind
        for i in range(_movers(given, week, room, 0)):
            found = _towed(given, week, room, i, eager, best)
            if found < best:
                best = found
                trailer, after = room.movers[i, 0], room.movers[i, 1]
    if trailer < 0:
        return False
    move_to(given, week, room, trailer, after, 0)
    put_best(given, week, room)
    return True


@fast
def _towed(
    given: Given, week: Week, room: Room, i: int, eager: float, best: float
) -> float:
    """Return what a move on a trip of its own costs, or the best so far where it is dearer."""
    trailer = room.movers[i, 0]
    room.dearer = 0.0
    number = move_to(given, week, room, trailer, room.movers[i, 1], 0)
    if number < 0:
        return best
    room.more[0].stop = move_code(trailer, number)
    dearer = room.dearer
    mark = best - dearer
    found = scan(given, week, room, 1, eager, mark)
    take_back(given, week, room, trailer, number, 0)
    return found + dearer if found < mark else best
