"""The most that the rest of a van-day can still gain: two ceilings that cut off hopeless labels."""

from typing import NamedTuple

import numpy as np

from dispatch.planner.floor.choice import Choice
from dispatch.planner.floor.jit import fast
from dispatch.planner.floor.shapes import Floats, Ground, Ints, Outset, Starts

_SLOTS = 160
_GRID = 10
_BIG = 1e18
_HOME = -1


class Hopes(NamedTuple):
    """By stage and slot of time the most from there on, stages allowed again; and each stage's own net."""

    grid: Ints  # minutes of a slot, 0 where there is no table
    table: Floats
    second: Floats
    then: Ints
    net: Floats
    span: Ints
    rank: Ints
    homeward: Floats


def hopes(stages: int) -> Hopes:
    """Return room for the hopes of so many stages."""
    size = max(1, stages)
    return Hopes(
        grid=np.zeros(1, np.int64),
        table=np.zeros((size, _SLOTS), np.float64),
        second=np.zeros((size, _SLOTS), np.float64),
        then=np.zeros((size, _SLOTS), np.int64),
        net=np.zeros(size, np.float64),
        span=np.zeros(size, np.int64),
        rank=np.zeros(size, np.int64),
        homeward=np.zeros(1, np.float64),
    )


@fast
def nets(
    h: Hopes, c: Choice, starts: Starts, ground: Ground, day: Outset, wage: float
) -> None:
    """Net gain of each stage by itself, with the shortest way there; ranked by gain a minute."""
    stages = c.size[1]
    h.homeward[0] = _BIG
    for s in range(stages):
        place = c.leave[s]
        h.net[s], h.span[s] = 0.0, 1 << 40
        home = wage * ground.minutes[place, day.home] + ground.cents[place, day.home]
        h.homeward[0] = min(h.homeward[0], home)
    for i in range(c.size[0]):
        row, s = c.rows[i], c.local[i]
        place, near, cheap = (
            c.place[s],
            ground.minutes[day.place, c.place[s]],
            ground.cents[day.place, c.place[s]],
        )
        for o in range(stages):
            if o != s:
                near = min(near, ground.minutes[c.leave[o], place])
                cheap = min(cheap, ground.cents[c.leave[o], place])
        span = near + starts.minutes[row]
        own = ground.cents[place, c.leave[s]] if place != c.leave[s] else 0.0
        h.net[s] = max(h.net[s], starts.gain[row] - wage * span - cheap - own)
        h.span[s] = min(h.span[s], span)
    for s in range(stages):
        h.rank[s] = s
    for i in range(1, stages):
        s, j = h.rank[i], i
        while j > 0 and h.net[h.rank[j - 1]] * max(1, h.span[s]) < h.net[s] * max(
            1, h.span[h.rank[j - 1]]
        ):
            h.rank[j] = h.rank[j - 1]
            j -= 1
        h.rank[j] = s


@fast
def by_nets(h: Hopes, c: Choice, shut: int, left: int) -> float:
    """The most by stages not shut in so many minutes: the last one in part (a fractional knapsack)."""
    total = -h.homeward[0]
    for i in range(c.size[1]):
        s = h.rank[i]
        if h.net[s] <= 0.0:
            break
        if c.bit[s] & shut != 0:
            continue
        if c.bit[s] == 0:
            return _BIG
        if h.span[s] > left:
            return total + h.net[s] * max(0, left) / max(1, h.span[s])
        left -= h.span[s]
        total += h.net[s]
    return total


@fast
def table(
    h: Hopes, c: Choice, starts: Starts, ground: Ground, day: Outset, wage: float
) -> None:
    """Backwards in time: from ready at a stage, the best next one, with waiting and breaks for nothing.

    The second best, by another next stage, is for those who have had the first.
    """
    grid = _GRID
    for i in range(c.size[0]):
        grid = min(grid, starts.minutes[c.rows[i]])
    slots = (day.until - day.since) // grid + 1 if grid > 0 else _SLOTS + 1
    h.grid[0] = grid if slots <= _SLOTS else 0
    if h.grid[0] == 0:
        return
    for slot in range(slots - 1, -1, -1):
        now = day.since + slot * grid
        for s in range(c.size[1]):
            _from(h, c, starts, ground, day, wage, s, now)


@fast
def _from(
    h: Hopes,
    c: Choice,
    starts: Starts,
    ground: Ground,
    day: Outset,
    wage: float,
    s: int,
    now: int,
) -> None:
    """Fill what can be gained from ready at stage s in the slot that begins now."""
    leave, slot = c.leave[s], (now - day.since) // h.grid[0]
    first, second, then = -_BIG, -_BIG, _HOME
    if now + ground.minutes[leave, day.home] <= day.until:
        first = -wage * ground.minutes[leave, day.home] - ground.cents[leave, day.home]
        second = first
    for i in range(c.size[0]):
        row, to = c.rows[i], c.local[i]
        if to == s or c.shuts[s] & c.bit[to] != 0:
            continue
        drive = ground.minutes[leave, c.place[to]]
        start = max(now + drive, starts.low[row])
        end = start + starts.minutes[row]
        if start > starts.high[row] or end > starts.shut[row] or end > day.until:
            continue
        later = (end - day.since) // h.grid[0]
        rest = h.second[to, later] if h.then[to, later] == s else h.table[to, later]
        net = starts.gain[row] - ground.cents[leave, c.place[to]] + rest
        net -= wage * (drive + starts.minutes[row])
        if to == then:
            first = max(first, net)
        elif net > first:
            first, second, then = net, first, to
        elif net > second:
            second = net
    h.table[s, slot], h.second[s, slot], h.then[s, slot] = first, second, then


@fast
def by_table(
    h: Hopes, c: Choice, stage: int, shut: int, ready: int, day: Outset
) -> float:
    """The most from ready at a stage, where only what comes next or next but one is surely new; home is paid."""
    if h.grid[0] == 0:
        return _BIG
    slot = (ready - day.since) // h.grid[0]
    then = h.then[stage, slot]
    top: float = h.table[stage, slot]
    if then >= 0 and c.bit[then] & shut != 0:
        top = h.second[stage, slot]
    return top
