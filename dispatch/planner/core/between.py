"""A trailer's move put between two others: where there is time for it, and the next one setting off from elsewhere."""

from dispatch.planner.core.chain import link, unlink
from dispatch.planner.core.change import restore
from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at, move_code, tow_minutes
from dispatch.planner.core.price import total_cents
from dispatch.planner.core.shapes import FAR, Given, Room, Span, Week
from dispatch.planner.core.stands import stay_after
from dispatch.planner.core.take_out import NO_MOVE, fixed, without


@fast
def move_to(
    given: Given, week: Week, room: Room, trailer: int, after: int, w: int
) -> int:
    """Give a trailer a stand at the place of want `w` after another; return its number, -1 if it cannot have it.

    What a later move costs more for setting off from there is added to `room.dearer`.
    """
    chain = week.chains[trailer]
    number = link(chain, after, room.wants[w, 1])
    if number < 0 or chain.next[number] < 0:
        return number
    r = chain.route[chain.next[number]]
    room.saved[w], room.stamps[w] = week.routes[r], week.version[r]
    cents = total_cents(given, week)
    if not without(given, week, room, r, NO_MOVE):
        unlink(chain, number)
        return -1
    room.dearer += total_cents(given, week) - cents
    return number


@fast
def take_back(
    given: Given, week: Week, room: Room, trailer: int, number: int, w: int
) -> None:
    """Undo `move_to`."""
    chain = week.chains[trailer]
    then = chain.next[number]
    unlink(chain, number)
    if then >= 0:
        r = chain.route[then]
        restore(given, week, r, room.saved[w])
        week.version[r] = room.stamps[w]


@fast
def has_gap(
    given: Given, week: Week, trailer: int, after: int, place: int, stage: int
) -> bool:
    """Whether a stage could be done at a place between two stands of a trailer, by the clock."""
    chain = week.chains[trailer]
    then = chain.next[after]
    if chain.place[after] == place or chain.place[then] == place:
        return False
    if fixed(week, move_code(trailer, then)):
        return False
    free, needed = _span(given, week, trailer, after, then)
    free += tow_minutes(given, trailer, chain.place[after], place)
    needed -= tow_minutes(given, trailer, place, chain.place[then])
    return _fits(given, week, stage, free, needed)


@fast
def _span(given: Given, week: Week, trailer: int, after: int, then: int) -> Span:
    """Return from when a trailer may leave a stand and by when it must be at the next."""
    chain = week.chains[trailer]
    free, needed = given.now, FAR
    if after > 0:
        free = chain.end[after]
    for g in range(chain.many):
        guest = chain.guests[g]
        seen = week.seen[guest]
        stay = stay_after(given, week, guest, trailer, after, seen.end)
        if stay >= 0:
            free = max(free, seen.end + stay)
        if stay_after(given, week, guest, trailer, then, seen.end) >= 0:
            needed = min(needed, seen.start)
    return free, needed


@fast
def _fits(given: Given, week: Week, stage: int, free: int, needed: int) -> bool:
    """Whether a stage has a window in that span, after what it follows."""
    row = given.stages[stage]
    for b in range(row.before[0], row.before[1]):
        seen = week.seen[given.before[b].stage]
        if seen.route >= 0:
            lag = lag_at(given.lags, given.steps, given.before[b].low, seen.end)
            free = max(free, seen.end + lag)
    first, last = stage * given.n_days, stage * given.n_days + given.n_days
    for k in range(given.window_at[first], given.window_at[last]):
        start = max(free, given.windows[k].start)
        if start + row.quickest <= min(needed, given.windows[k].end):
            return True
    return False
