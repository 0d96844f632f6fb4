"""When a stage or a tow may start, given every other van-day as it stands."""

from dispatch.planner.problem import Lag, lag_minutes
from dispatch.planner.solve.spans import (
    FAR,
    Starts,
    around,
    clip,
    ends_after,
    ends_before,
    inside_table,
)
from dispatch.planner.solve.state import Key, Move, State


def stage_starts(
    state: State, stage: int, key: Key, minutes: int, *, calm: bool
) -> Starts:
    """Return the allowed starts of a visit of that length in that van-day."""
    facts = state.facts
    windows = facts.calm if calm else facts.starts
    starts = windows(stage, key[1], minutes)
    pin = facts.stages[stage].pinned
    if pin is not None and facts.van_number[pin.van] != key[0]:
        return ()
    if starts and facts.preds[stage]:
        starts = _after(state, stage, key, starts)
    if starts and facts.succs[stage]:
        starts = _before(state, stage, key, (minutes, starts))
    if starts and facts.mates[stage]:
        starts = _boat(state, stage, key, (minutes, starts))
    if starts and facts.stages[stage].trailers:
        starts = _trailers(state, stage, key, (minutes, starts))
    return starts


def _after(state: State, stage: int, key: Key, starts: Starts) -> Starts:
    for other, low, high, same in state.facts.preds[stage]:
        seen = state.seen.get(other)
        if seen is None or seen.key == key:
            continue
        least = lag_minutes(low, seen.end)
        most = FAR if high is None else lag_minutes(high, seen.end)
        if same or least is None or most is None:
            return ()
        starts = clip(starts, seen.end + least, seen.end + most)
    return starts


def _before(state: State, stage: int, key: Key, now: tuple[int, Starts]) -> Starts:
    minutes, starts = now
    for other, low, high, same in state.facts.succs[stage]:
        starts = inside_table(inside_table(starts, minutes, low), minutes, high)
        seen = state.seen.get(other)
        if seen is None or seen.key == key:
            continue
        if same:
            return ()
        starts = ends_before(starts, minutes, low, seen.start)
        if high is not None:
            starts = ends_after(starts, minutes, high, seen.start)
    return starts


def _boat(state: State, stage: int, key: Key, now: tuple[int, Starts]) -> Starts:
    minutes, starts = now
    hold = state.facts.stages[stage].hold_min
    for mate in state.facts.mates[stage]:
        seen = state.seen.get(mate)
        if seen is not None and seen.key != key:
            starts = around(starts, minutes, hold, (seen.start, seen.held_until))
    return inside_table(starts, minutes, hold)


def stays(state: State, stage: int, trailer: int) -> Lag:
    """How long that trailer stays after the stage's visit."""
    kind = state.facts.trailers[trailer].kind
    needs = state.facts.stages[stage].trailers
    return next(n.stays_min for n in needs if n.kind == kind)


def span_end(state: State, stage: int, trailer: int) -> int:
    """Return the minute the trailer is free of a placed stage."""
    end = state.seen[stage].end
    return end + (lag_minutes(stays(state, stage, trailer), end) or 0)


def _trailers(state: State, stage: int, key: Key, now: tuple[int, Starts]) -> Starts:
    minutes, starts = now
    for trailer, number in state.served.get(stage, ()):
        lag = stays(state, stage, trailer)
        starts = inside_table(starts, minutes, lag)
        came = state.moves.get((trailer, number))
        if came is not None and came[0] != key:
            starts = clip(starts, came[2], FAR)
        leaves = state.moves.get((trailer, number + 1))
        if leaves is not None and leaves[0] != key:
            starts = ends_before(starts, minutes, lag, leaves[1])
        starts = _turns(state, (stage, trailer, number), key, (minutes, starts))
    return starts


def _turns(
    state: State, use: tuple[int, int, int], key: Key, now: tuple[int, Starts]
) -> Starts:
    """One boat at a time under one trailer."""
    (stage, trailer, number), (minutes, starts) = use, now
    boat, lag = state.facts.boat_of[stage], stays(state, stage, trailer)
    for other in state.at_stand(trailer, number):
        seen = state.seen.get(other)
        if seen is None or seen.key == key or state.facts.boat_of[other] == boat:
            continue
        busy = (seen.start, span_end(state, other, trailer))
        starts = around(starts, minutes, lag, busy)
    return starts


def move_starts(state: State, move: Move, key: Key, minutes: int) -> Starts:
    """Return the allowed starts of a tow: after what it served, before what waits for it."""
    low, high = -FAR, FAR
    trailer, number = move.trailer, move.number
    before = state.moves.get((trailer, number - 1))
    if before is not None and before[0] != key:
        low = before[2]
    after = state.moves.get((trailer, number + 1))
    if after is not None and after[0] != key:
        high = after[1] - minutes
    for stage in state.at_stand(trailer, number - 1):
        if stage in state.seen and state.seen[stage].key != key:
            low = max(low, span_end(state, stage, trailer))
    for stage in state.at_stand(trailer, number):
        if stage in state.seen and state.seen[stage].key != key:
            high = min(high, state.seen[stage].start - minutes)
    return ((low, high),) if low <= high else ()
