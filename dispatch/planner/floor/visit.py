"""One more visit on a partial van-day, and the way home from it."""

from dispatch.planner.floor.choice import Choice
from dispatch.planner.floor.jit import fast
from dispatch.planner.floor.labels import Labels
from dispatch.planner.floor.shapes import Ground, Outset, Starts

NOWHERE = -1
# How a visit is reached: without a break, after one, or with one inside.
PLAIN, BEFORE, INSIDE = 0, 1, 2
_FAR = 1e18


@fast
def begin(labels: Labels, day: Outset, wage: float) -> None:
    """Put down the first label: at the base, or where an open van-day stands."""
    labels.used[0] = 1
    labels.ready[0], labels.slack[0] = day.since, day.slack
    labels.worked[0], labels.rested[0] = day.gone, day.rested
    labels.stage[0], labels.parent[0] = NOWHERE, -1
    labels.cents[0], labels.shut[0], labels.dead[0] = wage * day.gone, 0, 0


@fast
def extend(
    labels: Labels,
    old: int,
    new: int,
    c: Choice,
    i: int,
    how: int,
    starts: Starts,
    ground: Ground,
    day: Outset,
    wage: float,
) -> bool:
    """Write label `new`: `old` and then a visit of row i; False where there is no time for it."""
    row, number = c.rows[i], c.local[i]
    place, leave = c.place[number], c.leave[number]
    at = day.place if labels.stage[old] < 0 else c.leave[labels.stage[old]]
    drive, minutes = ground.minutes[at, place], starts.minutes[row]
    low, high = starts.low[row], min(starts.high[row], starts.shut[row] - minutes)
    there, slack, paid, pause = labels.ready[old] + drive, labels.slack[old], 0, 0
    if how == BEFORE:
        if max(labels.ready[old], day.rest_from) + day.rest > day.rest_to:
            return False
        wait = max(0, day.rest_from - there)
        paid = max(0, wait - slack)
        there = there + wait + day.rest
        slack = min(max(0, slack - wait), day.rest_to + drive - there)
    elif how == INSIDE:
        pause = day.rest
        low = max(low, day.rest_from - minutes)
        high = min(high, day.rest_to - pause, starts.shut[row] - minutes - pause)
    back = ground.minutes[leave, day.home]
    high = min(high, day.until - back - minutes - pause)
    start = max(there, low)
    if start > high:
        return False
    wait = start - there
    paid += max(0, wait - slack)
    spent = drive + paid + minutes
    labels.ready[new] = start + minutes + pause
    labels.slack[new] = min(max(0, slack - wait), high - start)
    labels.worked[new] = labels.worked[old] + spent
    labels.rested[new] = 1 if how > PLAIN else labels.rested[old]
    labels.stage[new], labels.row[new], labels.parent[new] = number, i, old
    labels.dead[new] = 0
    cents = labels.cents[old] + wage * spent + ground.cents[at, place]
    if place != leave:
        cents += ground.cents[place, leave]
    labels.cents[new] = cents - starts.gain[row]
    return True


@fast
def shut_more(labels: Labels, new: int, c: Choice, ground: Ground) -> None:
    """Note what may not follow a label: what its visit rules out, and what it is too late for."""
    number = labels.stage[new]
    shut = labels.shut[labels.parent[new]] | c.shuts[number]
    ready, leave = labels.ready[new], c.leave[number]
    for s in range(c.size[1]):
        if ready + ground.minutes[leave, c.place[s]] > c.latest[s]:
            shut |= c.bit[s]
    labels.shut[new] = shut


@fast
def home(
    labels: Labels, at: int, c: Choice, ground: Ground, day: Outset, wage: float
) -> tuple[float, int]:
    """Return the cents and the minutes worked when a label goes home; huge where it cannot."""
    place = day.place if labels.stage[at] < 0 else c.leave[labels.stage[at]]
    drive = ground.minutes[place, day.home]
    ready, worked = labels.ready[at], labels.worked[at] + drive
    cents = labels.cents[at] + wage * drive + ground.cents[place, day.home]
    if ready + drive > day.until:
        return _FAR, worked
    if labels.rested[at] == 1 or worked <= day.after:
        return cents, worked
    back = max(ready + drive, day.rest_from) + day.rest
    if back > day.until or max(ready, day.rest_from) + day.rest > day.rest_to:
        return _FAR, worked
    paid = max(0, day.rest_from - ready - drive - labels.slack[at])
    return cents + wage * paid, worked + paid
