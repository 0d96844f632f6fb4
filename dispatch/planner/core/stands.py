"""Trailers at their stands: how long a stage keeps one, which move is made where."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.lags import lag_at
from dispatch.planner.core.shapes import Given, Week


@fast
def elsewhere(route: int, r: int) -> bool:
    """Whether a move is made in another van-day; a move being put in has none yet."""
    return route >= 0 and route != r


@fast
def take_stands(week: Week, stage: int) -> None:
    """Count a stage just placed among those that its trailers serve."""
    seen = week.seen[stage]
    for k in range(seen.stands):
        chain = week.chains[seen.trailer[k]]
        chain.guests[chain.many] = stage
        chain.many += 1


@fast
def leave_stands(week: Week, stage: int) -> None:
    """Count a stage no more among those that its trailers serve: it is taken out."""
    seen = week.seen[stage]
    for k in range(seen.stands):
        chain = week.chains[seen.trailer[k]]
        for g in range(chain.many):
            if chain.guests[g] == stage:
                chain.many -= 1
                chain.guests[g] = chain.guests[chain.many]
                break


@fast
def stay_after(
    given: Given, week: Week, stage: int, trailer: int, number: int, end: int
) -> int:
    """Return how long a stage keeps that stand after its end: -1 it has another, -2 unknown."""
    for k in range(week.seen[stage].stands):
        if week.seen[stage].trailer[k] == trailer:
            if number >= 0 and week.seen[stage].number[k] != number:
                continue
            row = given.stages[stage].stays[0] + k
            stay = lag_at(given.lags, given.steps, given.stays[row].lag, end)
            return stay if stay >= 0 else -2
    return -1
