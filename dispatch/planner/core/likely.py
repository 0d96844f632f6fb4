"""Which van-days a block is worth trying in: those that can hold it, the cheapest at best first."""

from dispatch.planner.core.chain import comes_from, comes_to
from dispatch.planner.core.dice import roll
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at, trailer_of
from dispatch.planner.core.shapes import (
    ALONE,
    FAR,
    LIKELY,
    ONLY,
    STOPS,
    SUPPLIES,
    Given,
    Room,
    Rows,
    Week,
)
from dispatch.planner.core.sketch import metres_inside, road_inside, work_minutes
from dispatch.planner.core.teams import able_all, rate_of

BLINK = 0.02  # the share of van-days passed over, for variety
BLUR = 0.3  # how much luck has to do with the order
IDLE = 3  # empty van-days that a block is tried in, of each day
NEVER = 1e18


@fast
def likely(given: Given, week: Week, room: Room, many: int, eager: float) -> int:
    """Write the van-days with stops that could take the block, the least cents first; return how many.

    `room.least` holds what no way of adding the block can cost less than.
    """
    found = 0
    for day in range(given.n_days):
        if not may_try(given, week, room, many, day):
            continue
        soon = eager * given.days[day].opens
        for van in range(given.n_vans):
            r = day * given.n_vans + van
            if is_idle(week, r) or not worth_a_try(given, week, room, many, r):
                continue
            same, grown = _least(given, week, room, many, r)
            least = min(same, grown)
            if least < NEVER:
                key = least * (1 + BLUR * (roll(week.dice) - 0.5)) + soon
                found = _note(room, found, r, (least + soon, grown + soon), key)
    return found


@fast
def _note(
    room: Room, found: int, r: int, least: tuple[float, float], key: float
) -> int:
    """Keep the list in order; the dearest falls out of a full one."""
    if found == LIKELY and key >= room.rank[found - 1]:
        return found
    m = found if found < LIKELY else LIKELY - 1
    while m > 0 and room.rank[m - 1] > key:
        room.rank[m], room.least[m] = room.rank[m - 1], room.least[m - 1]
        room.grown[m] = room.grown[m - 1]
        room.likely[m] = room.likely[m - 1]
        m -= 1
    room.rank[m], room.least[m], room.likely[m] = key, least[0], r
    room.grown[m] = least[1]
    return min(found + 1, LIKELY)


@fast
def nearest_idle(given: Given, week: Week, room: Room, many: int, day: int) -> int:
    """Write the empty van-days of a day whose base is nearest; return how many."""
    found, site = 0, room.more[0].origin
    for k in range(given.n_vans):
        r = day * given.n_vans + given.near[site, k]
        if is_idle(week, r) and worth_a_try(given, week, room, many, r):
            room.likely[found] = r
            found += 1
            if found == IDLE:
                break
    return found


@fast
def _least(
    given: Given, week: Week, room: Room, many: int, r: int
) -> tuple[float, float]:
    """Return cents that adding the block to a van-day cannot cost less than, as many in the team and with one more; NEVER when it has not the hours."""
    route, van, day = week.routes[r], r % given.n_vans, r // given.n_vans
    road, metres = _detour(given, week, room, many, r)
    road += route.road + road_inside(given, room.more, many)
    metres += route.metres + metres_inside(given, room.more, many)
    opens = max(given.days[day].opens, given.vans[van].on[day], given.now)
    closes = min(given.days[day].closes, given.vans[van].off[day])
    most = FAR if route.lock == 1 else closes - opens
    rate = rate_of(given, route.team, route.size)
    own = able_all(given, route.team, route.size, room.more, many)
    cheapest = given.people[given.cheapest[0]].rate
    same, grown = NEVER, NEVER
    for size in range(route.size, min(route.size + 2, given.vans[van].seats + 1)):
        work = work_minutes(given, room.more, many, size)
        if size == route.size:
            work += route.work
        else:
            for i in range(route.count):
                if route.stop[i] >= 0:
                    work += given.stages[route.stop[i]].minutes[size]
        out = work + road
        if out > given.rest_after:
            out += given.rest
        if work < 0 or out > most:
            continue
        paid = rate + cheapest if size > route.size else rate
        if size == route.size and not own:
            paid = cheapest * size
        if size > route.size:
            grown = paid * (work + road)
        else:
            same = paid * (work + road)
    rest = given.vans[van].metre_cents * metres + given.vans[van].day_cents
    rest -= route.other + rate * route.paid + told_cents(given, week, room, many, r)
    return min(NEVER, same + rest), min(NEVER, grown + rest)


@fast
def told_cents(given: Given, week: Week, room: Room, many: int, r: int) -> float:
    """Return what the van-day with the block saves by keeping days that people were told."""
    kept, day = week.routes[r].kept, r // given.n_vans
    for i in range(many):
        stop = room.more[i].stop
        if stop >= 0 and given.stages[stop].told >= 0:
            kept += given.stages[stop].told_day == day
    return given.day_cents * kept


@fast
def _detour(given: Given, week: Week, room: Room, many: int, r: int) -> tuple[int, int]:
    """Return the least minutes and the least metres of driving that the block adds."""
    route, base = week.routes[r], given.vans[r % given.n_vans].base
    first, last = room.more[0].origin, room.more[many - 1].site
    before, road, metres = base, FAR, FAR
    for i in range(route.held):
        before = _leaves(given, week, route.stop[i])
    for p in range(route.held, route.count + 1):
        after = base if p == route.count else _comes_to(given, week, route.stop[p])
        added = given.drive[before, first] + given.drive[last, after]
        road = min(road, added - given.drive[before, after])
        added = given.metres[before, first] + given.metres[last, after]
        metres = min(metres, added - given.metres[before, after])
        if p < route.count:
            before = _leaves(given, week, route.stop[p])
    return road, metres


@fast
def _leaves(given: Given, week: Week, stop: int) -> int:
    """Return the place where a stop leaves the van."""
    if stop >= 0:
        return given.stages[stop].place
    return comes_to(week, stop)


@fast
def _comes_to(given: Given, week: Week, stop: int) -> int:
    """Return the place a stop begins at."""
    if stop >= 0:
        return given.stages[stop].place
    return comes_from(week, stop)


@fast
def worth_a_try(given: Given, week: Week, room: Room, many: int, r: int) -> bool:
    """Whether a van-day may take stops, and its van has what the block needs; now and then it is passed over."""
    route = week.routes[r]
    if route.lock == 2 or route.count + many > STOPS:
        return False
    van = r % given.n_vans
    alone = room.out[ALONE]
    if given.vans[van].on[r // given.n_vans] < 0 or (alone != 0 and alone != r + 1):
        return False
    if alone == 0 and roll(week.dice) < BLINK:
        return False
    if alone == 0 and is_idle(week, r):
        twin = given.vans[van].twin
        if twin != van and is_idle(week, r - van + twin):
            return False
    return _may_carry(given, week, room.more, many, r)


@fast
def is_idle(week: Week, r: int) -> bool:
    """Whether a van stays at base that day and may go out."""
    return week.routes[r].count == 0 and week.routes[r].lock == 0


@fast
def may_try(given: Given, week: Week, room: Room, many: int, day: int) -> bool:
    """Whether the block may be tried on that day: its stages have windows between those on other days, and no other day is asked for."""
    only = room.out[ONLY]
    if (only != 0 and only != day + 1) or not _has_window(given, room.more, many, day):
        return False
    for i in range(many):
        if room.more[i].stop >= 0 and not _in_order(
            given, week, room.more[i].stop, day
        ):
            return False
    return True


@fast
def _in_order(given: Given, week: Week, stop: int, day: int) -> bool:
    """Whether what a stage follows on other days leaves it time that day, and what follows it comes no sooner."""
    row, opens = given.stages[stop], given.days[day].opens
    for b in range(row.before[0], row.before[1]):
        link = given.before[b]
        other = week.seen[link.stage]
        if other.route < 0 or other.route // given.n_vans == day:
            continue
        least = lag_at(given.lags, given.steps, link.low, other.end)
        if least < 0 or other.end + least >= given.days[day].closes:
            return False
        if link.high >= 0:
            most = lag_at(given.lags, given.steps, link.high, other.end)
            if other.end + most < opens:
                return False
    for b in range(row.then[0], row.then[1]):
        other = week.seen[given.then[b].stage]
        if other.route >= 0 and other.start < opens:
            return False
    return True


@fast
def _has_window(given: Given, slots: Rows, many: int, day: int) -> bool:
    """Whether every stage of a block has a window that day."""
    for i in range(many):
        stop = slots[i].stop
        if stop >= 0:
            row = stop * given.n_days + day
            if given.window_at[row] == given.window_at[row + 1]:
                return False
    return True


@fast
def _may_carry(given: Given, week: Week, slots: Rows, many: int, r: int) -> bool:
    """Whether the van has the gear, the hitch and the supplies for the block beside its stops."""
    van = r % given.n_vans
    heavy = False
    for i in range(many):
        stop = slots[i].stop
        if stop < 0:
            trailer = trailer_of(stop)
            if given.trailers[trailer].towed != 0 and given.vans[van].tows == 0:
                return False
        elif given.fits[stop, van] == 0:
            return False
        else:
            for k in range(SUPPLIES):
                heavy = heavy or given.stages[stop].supplies[k] > 0
    if not heavy:
        return True
    route = week.routes[r]
    for k in range(SUPPLIES):
        load_now = 0
        for i in range(many):
            if slots[i].stop >= 0:
                load_now += given.stages[slots[i].stop].supplies[k]
        if load_now == 0:
            continue
        for i in range(route.count):
            if route.stop[i] >= 0:
                load_now += given.stages[route.stop[i]].supplies[k]
        if load_now > given.vans[van].carries[k]:
            return False
    return True
