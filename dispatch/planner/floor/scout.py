"""The best outing of each of many teams, as few of them searched as will do."""

import numpy as np

from dispatch.planner.floor.choice import Choice, choose
from dispatch.planner.floor.hopes import by_nets, nets, table
from dispatch.planner.floor.jit import fast
from dispatch.planner.floor.outing import FULL, search
from dispatch.planner.floor.shapes import (
    MOST_STOPS,
    Crews,
    Found,
    Ground,
    Ints,
    Outset,
    Starts,
)
from dispatch.planner.floor.space import Space


@fast
def scout(
    space: Space,
    starts: Starts,
    ground: Ground,
    day: Outset,
    crews: Crews,
    order: Ints,
    mark: float,
    share: float,
    loose: bool,
    enough: int,
    found: Found,
) -> None:
    """Write each team's best outing under the mark, and under a share of the best one so far.

    Unless loose or cut short, the least of `found.cents` is no more than what the best van-day of
    any of the teams really costs, or the mark.
    """
    least, hits = mark, 0
    found.cents[:], found.tried[:], found.rows[:] = mark, 0, -1
    for team in order:
        today = _narrowed(day, crews, team)
        if today.until < today.since or _needless(crews, found, team):
            continue
        choose(space.choice, starts, ground, crews, team, today)
        if space.choice.size[0] == 0 and today.idle == 0:
            continue
        under = min(mark, share * least) - crews.cents[team]
        cents = _team(
            space, starts, ground, today, crews.wage[team], under, loose, found, team
        )
        found.cents[team], found.tried[team] = cents + crews.cents[team], 1
        least = min(least, found.cents[team])
        hits += found.rows[team, 0] != -1
        if hits >= enough or space.halt[0] != 0:
            break


@fast
def _team(
    space: Space,
    starts: Starts,
    ground: Ground,
    day: Outset,
    wage: float,
    under: float,
    loose: bool,
    found: Found,
    team: int,
) -> float:
    """Search for one team, unless its hopes alone say that nothing comes under the mark."""
    nets(space.hopes, space.choice, starts, ground, day, wage)
    hoped = by_nets(space.hopes, space.choice, 0, day.until - day.since)
    if day.idle == 0 and -hoped >= under:
        return under
    table(space.hopes, space.choice, starts, ground, day, wage)
    cents, last, worked = search(space, starts, ground, day, wage, under, loose)
    if last == FULL:
        return _everything(space.choice, starts)
    if last >= 0:
        _write(space, last, worked, found, team)
    return cents


@fast
def _narrowed(day: Outset, crews: Crews, team: int) -> Outset:
    """The day as far as the team is on duty; one under way began when it began."""
    since, until = day.since, min(day.until, crews.until[team])
    slack = 0
    if day.idle == 0:
        since = max(since, crews.since[team])
        slack = max(0, until - since)
    return Outset(
        since,
        until,
        slack,
        day.place,
        day.home,
        day.gone,
        day.idle,
        day.rested,
        day.rest,
        day.rest_from,
        day.rest_to,
        day.after,
    )


@fast
def _everything(c: Choice, starts: Starts) -> float:
    """Less than any outing can cost: every stage's best gain, each once."""
    total = 0.0
    for s in range(c.size[1]):
        top = 0.0
        for i in range(c.size[0]):
            if c.local[i] == s:
                top = max(top, starts.gain[c.rows[i]])
        total -= top
    return total


@fast
def _needless(crews: Crews, found: Found, team: int) -> bool:
    """Whether a team tried before this one can do the same, as long, for no more."""
    for other in range(len(crews.wage)):
        if (
            found.tried[other] == 1
            and crews.wage[other] <= crews.wage[team]
            and crews.cents[other] <= crews.cents[team]
            and crews.since[other] <= crews.since[team]
            and crews.until[other] >= crews.until[team]
            and np.all(crews.able[other] | ~crews.able[team])
        ):
            return True
    return False


@fast
def _write(space: Space, last: int, worked: int, found: Found, team: int) -> None:
    """Write the rows of an outing in order, the first -2 where it goes straight home."""
    labels = space.labels
    count, at = 0, last
    while at > 0 and count < MOST_STOPS:
        count += 1
        at = labels.parent[at]
    found.worked[team] = worked
    found.rows[team, :] = -2
    at = last
    for k in range(count - 1, -1, -1):
        found.rows[team, k] = space.choice.rows[labels.row[at]]
        at = labels.parent[at]
