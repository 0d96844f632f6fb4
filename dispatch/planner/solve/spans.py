"""Sets of allowed starts: sorted tuples of (first, last) minutes, both included."""

from collections.abc import Iterable

from dispatch.planner.problem import Lag

Starts = tuple[tuple[int, int], ...]
FAR = 10**9


def clip(starts: Starts, low: int, high: int) -> Starts:
    """Keep the starts from `low` to `high`."""
    return tuple(
        (max(low, a), min(high, b)) for a, b in starts if b >= low and a <= high
    )


def join(parts: Iterable[tuple[int, int]]) -> Starts:
    """Return the union, sorted and merged."""
    merged: list[tuple[int, int]] = []
    for a, b in sorted(parts):
        if merged and a <= merged[-1][1] + 1:
            merged[-1] = (merged[-1][0], max(b, merged[-1][1]))
        else:
            merged.append((a, b))
    return tuple(merged)


def ends_before(starts: Starts, minutes: int, lag: Lag, limit: int) -> Starts:
    """Keep starts whose end plus the lag (looked up at that end) is at most `limit`."""
    if isinstance(lag, int):
        return clip(starts, -FAR, limit - lag - minutes)
    return join(
        span
        for low, high, wait in lag
        if low <= (top := min(high - 1, limit - wait))
        for span in clip(starts, low - minutes, top - minutes)
    )


def ends_after(starts: Starts, minutes: int, lag: Lag, limit: int) -> Starts:
    """Keep starts whose end plus the lag (looked up at that end) is at least `limit`."""
    if isinstance(lag, int):
        return clip(starts, limit - lag - minutes, FAR)
    return join(
        span
        for low, high, wait in lag
        if (bottom := max(low, limit - wait)) < high
        for span in clip(starts, bottom - minutes, high - 1 - minutes)
    )


def inside_table(starts: Starts, minutes: int, lag: Lag | None) -> Starts:
    """Keep starts whose end the lag's table knows."""
    if lag is None or isinstance(lag, int):
        return starts
    return clip(starts, lag[0][0] - minutes, lag[-1][1] - 1 - minutes)


def around(starts: Starts, minutes: int, lag: Lag, other: tuple[int, int]) -> Starts:
    """Keep starts that are over, lag and all, before `other` begins, or begin after it."""
    before = ends_before(starts, minutes, lag, other[0])
    return join((*before, *clip(starts, other[1], FAR)))


def minus(starts: Starts, low: int, high: int) -> Starts:
    """Take the starts from `low` to `high` (both included) out."""
    return join((*clip(starts, -FAR, low - 1), *clip(starts, high + 1, FAR)))


def first_from(starts: Starts, minute: int) -> int | None:
    """Return the earliest start at or after `minute`."""
    for a, b in starts:
        if b >= minute:
            return max(minute, a)
    return None


def last_until(starts: Starts, minute: int) -> int | None:
    """Return the latest start at or before `minute`."""
    for a, b in reversed(starts):
        if a <= minute:
            return min(minute, b)
    return None
