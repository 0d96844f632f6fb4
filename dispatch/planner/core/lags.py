"""Lags by the end of a visit, and moves of trailers as stops."""

from dispatch.planner.core.jit import fast
from dispatch.planner.core.shapes import CHAIN, Given, Rows


@fast
def lag_at(lags: Rows, steps: Rows, lag: int, end: int) -> int:
    """Return the minutes of a lag by the end of the earlier visit, -1 where its table is silent."""
    flat = lags[lag].flat
    if flat >= 0:
        return flat
    low, high = lags[lag].rows[0], lags[lag].rows[1]
    while low < high:
        middle = (low + high) // 2
        if steps[middle].end <= end:
            low = middle + 1
        else:
            high = middle
    if low < lags[lag].rows[1] and steps[low].start <= end:
        return steps[low].minutes
    return -1


@fast
def longest(lags: Rows, steps: Rows, lag: int) -> int:
    """Return the most minutes a lag can be."""
    flat = lags[lag].flat
    if flat >= 0:
        return flat
    most = 0
    for i in range(lags[lag].rows[0], lags[lag].rows[1]):
        most = max(most, steps[i].minutes)
    return most


@fast
def move_code(trailer: int, number: int) -> int:
    """Return the stop that is a trailer's move of that number."""
    return -1 - (trailer * CHAIN + number)


@fast
def trailer_of(stop: int) -> int:
    """Return the trailer a move moves."""
    return (-1 - stop) // CHAIN


@fast
def tow_minutes(given: Given, trailer: int, origin: int, to: int) -> int:
    """Return how long a move takes: hooking, the slower drive, unhooking."""
    row = given.trailers[trailer]
    return row.hook - (-given.drive[origin, to] * row.percent // 100)
