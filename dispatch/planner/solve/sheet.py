"""A van-day as a sheet to be timed: durations, drives, allowed starts, ties between stops."""

from dispatch.planner.problem import Lag
from dispatch.planner.solve.allowed import move_starts, stage_starts, stays
from dispatch.planner.solve.spans import FAR, Starts, clip
from dispatch.planner.solve.state import Key, Move, State, Stop

Tie = tuple[int, Lag, Lag | None]


class Sheet:
    """What the clock needs to time a team's stops, none before its own minute of `since`.

    `possible` is False when nothing fits.
    """

    __slots__ = (
        "calm",
        "drives",
        "key",
        "minutes",
        "possible",
        "since",
        "starts",
        "state",
        "stops",
        "team",
        "ties",
    )

    def __init__(
        self,
        state: State,
        key: Key,
        team: tuple[int, ...],
        stops: tuple[Stop, ...],
        *,
        calm: bool,
        since: tuple[int, ...] = (),
    ) -> None:
        self.state, self.key, self.team, self.stops = state, key, team, stops
        self.calm, self.since = calm, since
        self.possible = False
        self.minutes = [minutes(state, stop, len(team)) for stop in stops]
        if -1 in self.minutes:
            return
        self.starts = [self.allowed(i, length) for i, length in enumerate(self.minutes)]
        if not all(self.starts):
            return
        self.possible = True

    def ready(self) -> bool:
        """Work out drives and ties; False when the stops' order is wrong."""
        ties = _ties(self.state, self.stops)
        if ties is None:
            return False
        self.ties = ties
        self.drives = drives(self.state, self.key, self.stops)
        return True

    def signature(self, rest_minutes: int) -> tuple[object, ...]:
        """Return all that the timing depends on beside the van, the day, team and stops."""
        longer = [
            self.allowed(i, length + rest_minutes)
            for i, length in enumerate(self.minutes)
            if self.pausable(i)
        ]
        stands = [
            self.state.served.get(s) for s in self.stops if not isinstance(s, Move)
        ]
        return (*self.starts, *longer, *stands)

    def allowed(self, i: int, minutes: int) -> Starts:
        """Return the allowed starts of stop `i` when it takes that long."""
        starts = self._anywhen(i, minutes)
        return clip(starts, self.since[i], FAR) if self.since else starts

    def _anywhen(self, i: int, minutes: int) -> Starts:
        state, stop = self.state, self.stops[i]
        if isinstance(stop, Move):
            return move_starts(state, stop, self.key, minutes)
        known = (stop, self.key, minutes, self.calm, state.served.get(stop))
        starts = state.memo.get(known)
        if starts is None:
            starts = stage_starts(state, stop, self.key, minutes, calm=self.calm)
            state.memo[known] = starts
        return starts

    def pausable(self, i: int) -> bool:
        """Whether the break may fall inside stop `i`."""
        stop = self.stops[i]
        return not isinstance(stop, Move) and self.state.facts.stages[stop].pausable


def minutes(state: State, stop: Stop, size: int) -> int:
    """Return the minutes of a stop for a team of that size, -1 when it is too small."""
    facts = state.facts
    if isinstance(stop, Move):
        trailer = facts.trailers[stop.trailer]
        drive = facts.problem.drive_min[stop.origin][stop.to]
        return (
            trailer.hook_min - (-drive * trailer.factor_pct // 100) + trailer.unhook_min
        )
    length = facts.minutes[stop][size]
    return -1 if length is None else length


def drives(state: State, key: Key, stops: tuple[Stop, ...]) -> list[int]:
    """Minutes of each leg: from base to the first stop, ..., from the last one to base."""
    matrix, base = state.facts.problem.drive_min, state.facts.vans[key[0]].base
    at, legs = base, []
    for stop in stops:
        if isinstance(stop, Move):
            legs.append(matrix[at][stop.origin])
            at = stop.to
        else:
            to = state.facts.stages[stop].place
            legs.append(matrix[at][to])
            at = to
    legs.append(matrix[at][base])
    return legs


def _ties(state: State, stops: tuple[Stop, ...]) -> list[list[Tie]] | None:
    """For each stop, (earlier stop, least lag, most lag); None when the order is wrong."""
    ties: list[list[Tie]] = []
    for i, stop in enumerate(stops):
        mine: list[Tie] = []
        for j in range(i):
            found = _tie(state, stops[j], stop)
            if found is None:
                return None
            mine += [(j, low, high) for low, high in found]
        ties.append(mine)
    return ties


def _tie(state: State, first: Stop, then: Stop) -> list[tuple[Lag, Lag | None]] | None:
    """Lags between two stops of one van-day, or None when they may not be in this order."""
    if isinstance(first, Move):
        return _tie_move(state, first, then)
    if isinstance(then, Move):
        return _tie_to_move(state, first, then)
    facts = state.facts
    if any(link[0] == then for link in facts.preds[first]):
        return None
    found: list[tuple[Lag, Lag | None]] = [
        (low, high) for other, low, high, _ in facts.preds[then] if other == first
    ]
    if facts.boat_of[first] == facts.boat_of[then]:
        found.append((facts.stages[first].hold_min, None))
        return found
    theirs = state.served.get(then, ())
    shared = [t for t, n in state.served.get(first, ()) if (t, n) in theirs]
    return found + [(stays(state, first, trailer), None) for trailer in shared]


def _tie_move(
    state: State, first: Move, then: Stop
) -> list[tuple[Lag, Lag | None]] | None:
    if isinstance(then, Move):
        wrong = then.trailer == first.trailer and then.number < first.number
    else:
        stands = state.served.get(then, ())
        wrong = any(t == first.trailer and n < first.number for t, n in stands)
    return None if wrong else []


def _tie_to_move(
    state: State, first: int, then: Move
) -> list[tuple[Lag, Lag | None]] | None:
    for trailer, number in state.served.get(first, ()):
        if trailer != then.trailer:
            continue
        if number >= then.number:
            return None
        return [(stays(state, first, trailer), None)]
    return []
