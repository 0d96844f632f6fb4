"""Takes stages out of the week, and the moves of trailers that nothing needs any more."""

from dispatch.planner.core.chain import number_of, relink, unlink
from dispatch.planner.core.change import keep_marked, put, removable, retime
from dispatch.planner.core.dice import stamp
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import move_code, trailer_of
from dispatch.planner.core.shapes import FAR, MOVE, MOVE_TOO, Given, Room, Week

NO_MOVE = FAR  # no stop is called so


@fast
def take_out(given: Given, week: Week, room: Room) -> None:
    """Take every marked stage out that may be, and the tows nothing needs any more; unmark all."""
    room.out[MOVE] = 0
    for stage in range(given.n_stages):
        if room.mark[stage] == 1:
            if not removable(given, week, stage):
                room.mark[stage] = 0
    for stage in range(given.n_stages):
        if room.mark[stage] == 1 and week.seen[stage].route >= 0:
            keep_marked(given, week, room, week.seen[stage].route)
    for stage in range(given.n_stages):
        if room.mark[stage] == 1:
            room.mark[stage] = 0
    for stage in range(week.n_stages):
        if week.seen[stage].route < 0:
            week.seen[stage].stands = 0
    idle_tows(given, week, room)


@fast
def idle_tows(given: Given, week: Week, room: Room) -> None:
    """Undo the moves of trailers to where nothing is served, the last first."""
    for trailer in range(given.n_trailers):
        chain = week.chains[trailer]
        number = chain.last
        while number > 0:
            prior = chain.prior[number]
            if not _used(week, trailer, number):
                if chain.next[number] < 0:
                    if not _end_sooner(given, week, room, trailer, number):
                        break
                else:
                    _bypass(given, week, room, trailer, number)
            number = prior


@fast
def fixed(week: Week, stop: int) -> bool:
    """Whether a move is done, under way or closed."""
    r = week.chains[trailer_of(stop)].route[number_of(stop)]
    done = r < 0 or week.routes[r].lock == 2
    for i in range(0 if done else week.routes[r].held):
        done = done or week.routes[r].stop[i] == stop
    return done


@fast
def _drop(given: Given, week: Week, room: Room, stop: int, r: int) -> None:
    room.out[MOVE] = stop
    keep_marked(given, week, room, r)
    room.out[MOVE] = 0


@fast
def _end_sooner(
    given: Given, week: Week, room: Room, trailer: int, number: int
) -> bool:
    """Undo a trailer's last move; False when it is not to be undone."""
    chain, code = week.chains[trailer], move_code(trailer, number)
    if fixed(week, code):
        return False
    _drop(given, week, room, code, chain.route[number])
    unlink(chain, number)
    return True


@fast
def _bypass(given: Given, week: Week, room: Room, trailer: int, number: int) -> None:
    """Undo a move between two others, if the next can set off from the stand before."""
    chain, code = week.chains[trailer], move_code(trailer, number)
    prior, then = chain.prior[number], chain.next[number]
    onward = move_code(trailer, then)
    if fixed(week, code) or fixed(week, onward):
        return
    r, next_r, place = chain.route[number], chain.route[then], chain.place[number]
    if chain.place[prior] == chain.place[then]:
        _stay_on(given, week, room, trailer, number)
        return
    unlink(chain, number)
    if not without(given, week, room, next_r, code):
        relink(chain, number, prior, place)
        chain.route[number] = r
    elif next_r != r:
        _drop(given, week, room, code, r)


@fast
def without(given: Given, week: Week, room: Room, r: int, code: int) -> bool:
    """Time a van-day anew without that move, if it has it; False, and nothing is changed, where that fails."""
    route, slots, count = week.routes[r], room.tried, 0
    for i in range(route.count):
        if route.stop[i] != code:
            slots[count].stop = route.stop[i]
            count += 1
    if not retime(given, week, room, r, count, route.team, route.size):
        return False
    put(given, week, room, slots, count, r, route.team, route.size)
    return True


@fast
def _stay_on(given: Given, week: Week, room: Room, trailer: int, number: int) -> None:
    """Undo a move away and the one back: what is served after them is served at the stand before."""
    chain = week.chains[trailer]
    prior, then = chain.prior[number], chain.next[number]
    for g in range(chain.many):
        seen = week.seen[chain.guests[g]]
        for k in range(seen.stands):
            if seen.trailer[k] == trailer and seen.number[k] == then:
                seen.number[k] = prior
                week.version[seen.route] = stamp(week.dice)
    away, back = chain.route[number], chain.route[then]
    unlink(chain, then)
    unlink(chain, number)
    room.out[MOVE_TOO] = move_code(trailer, then)
    _drop(given, week, room, move_code(trailer, number), away)
    if back != away:
        _drop(given, week, room, move_code(trailer, then), back)
    room.out[MOVE_TOO] = 0


@fast
def _used(week: Week, trailer: int, number: int) -> bool:
    chain = week.chains[trailer]
    for g in range(chain.many):
        seen = week.seen[chain.guests[g]]
        for k in range(seen.stands):
            if seen.trailer[k] == trailer and seen.number[k] == number:
                return True
    return False
