"""The outing that lowers the week's cost most for one team of a van on a day: labels in order of time.

Every van-day the contract allows has an outing here that costs no more: drives are the shortest ways,
boats and supplies are left out, trailers only fetched, and a break need only find its minutes.
"""

from dispatch.planner.floor.hopes import by_nets, by_table
from dispatch.planner.floor.jit import fast
from dispatch.planner.floor.labels import Labels, keep
from dispatch.planner.floor.shapes import MOST_LABELS, Ground, Ints, Outset, Starts
from dispatch.planner.floor.space import Space
from dispatch.planner.floor.visit import INSIDE, begin, extend, home, shut_more

# No outing was found, or there was no room left to look on.
NONE, FULL = -1, -2


@fast
def search(
    space: Space,
    starts: Starts,
    ground: Ground,
    day: Outset,
    wage: float,
    under: float,
    loose: bool,
) -> tuple[float, int, int]:
    """Return the least cents under a mark, the last label (or NONE, FULL) and minutes worked."""
    labels, queue = space.labels, space.queue
    begin(labels, day, wage)
    space.first[:] = -1
    queue[:] = -1
    best, last, minutes = under, NONE, 0
    _enqueue(labels, 0, queue, 0)
    for minute in range(day.until - day.since + 1):
        if space.halt[0] != 0:
            return best, FULL, 0
        at = queue[0, minute]
        while at >= 0:
            if labels.dead[at] == 0:
                cents, worked = home(labels, at, space.choice, ground, day, wage)
                if (labels.stage[at] >= 0 or day.idle == 1) and cents < best:
                    best, last, minutes = cents, at, worked
                if not _onward(space, at, starts, ground, day, wage, best, loose):
                    return best, FULL, 0
            at = labels.later[at]
    return best, last, minutes


@fast
def _onward(
    space: Space,
    at: int,
    starts: Starts,
    ground: Ground,
    day: Outset,
    wage: float,
    under: float,
    loose: bool,
) -> bool:
    """Extend a label by every visit that may follow and can still come under a mark; False: no room."""
    labels, c, h = space.labels, space.choice, space.hopes
    ways = 1 if labels.rested[at] == 1 else 3
    for i in range(c.size[0]):
        if labels.shut[at] & c.bit[c.local[i]] != 0:
            continue
        for how in range(ways):
            new = labels.used[0]
            if new >= MOST_LABELS:
                return False
            if how == INSIDE and not starts.pausable[c.rows[i]]:
                continue
            if not extend(labels, at, new, c, i, how, starts, ground, day, wage):
                continue
            ready, cents = labels.ready[new], labels.cents[new]
            shut = labels.shut[at] | c.shuts[c.local[i]]
            hoped = by_table(h, c, labels.stage[new], shut, ready, day)
            if cents - hoped >= under:
                continue
            shut_more(labels, new, c, ground)
            if cents - by_nets(h, c, labels.shut[new], day.until - ready) >= under:
                continue
            if keep(labels, new, space.first, wage, loose):
                labels.used[0] += 1
                _enqueue(labels, new, space.queue, ready - day.since)
    return True


@fast
def _enqueue(labels: Labels, new: int, queue: Ints, minute: int) -> None:
    """Put a label last among those of its minute."""
    labels.later[new] = -1
    if queue[0, minute] < 0:
        queue[0, minute] = new
    else:
        labels.later[queue[1, minute]] = new
    queue[1, minute] = new
