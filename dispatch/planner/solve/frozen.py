"""Lays into a week what is fixed: frozen van-days, and plans to start from."""

from collections.abc import Mapping
from typing import Any

from dispatch.planner.plan import Tow, VanDay, read_van_day
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.state import Key, Move, Route, State, Stop


def fresh(facts: Facts) -> State:
    """Return a week with nothing in it but the frozen van-days."""
    state = State(facts)
    rows = [(read_van_day({"back": 0, **row}), row) for row in facts.problem.frozen]
    for vd, _ in rows:
        _choose(state, vd)
    numbers = number_tows(facts, [vd for vd, _ in rows], state)
    for vd, row in rows:
        state.put(_route(facts, vd, row, numbers))
    _serve(state)
    return state


def _choose(state: State, vd: VanDay) -> None:
    """Keep the variant whose stages have begun."""
    facts = state.facts
    for stop in vd.stops:
        if not isinstance(stop, Tow):
            stage = facts.number[stop.stage]
            own = facts.stages[stage].variant
            if own is not None:
                state.chosen[facts.job_of[stage]] = own


def number_tows(
    facts: Facts, van_days: list[VanDay], state: State
) -> dict[tuple[str, int], Move]:
    """Return the moves of each trailer in order of time, numbered on from the state's chain."""
    tows = [t for vd in van_days for t in vd.stops if isinstance(t, Tow)]
    place = {name: i for i, name in enumerate(facts.problem.places)}
    found: dict[tuple[str, int], Move] = {}
    last = [len(chain) - 1 for chain in state.chain]
    for tow in sorted(tows, key=lambda t: t.start):
        trailer = facts.trailer_number[tow.trailer]
        last[trailer] += 1
        move = Move(trailer, last[trailer], place[tow.origin], place[tow.to])
        found[tow.trailer, tow.start] = move
        # The chain is laid at once: van-days may be put in any order.
        state.chain[trailer] = (*state.chain[trailer], place[tow.to])
    return found


def stops_of(
    facts: Facts, vd: VanDay, numbers: Mapping[tuple[str, int], Move]
) -> tuple[Stop, ...]:
    """Return a van-day's stops as the search knows them."""
    return tuple(
        numbers[s.trailer, s.start] if isinstance(s, Tow) else facts.number[s.stage]
        for s in vd.stops
    )


def _route(
    facts: Facts,
    vd: VanDay,
    row: Mapping[str, Any],
    numbers: Mapping[tuple[str, int], Move],
) -> Route:
    key: Key = (facts.van_number[vd.van], vd.day)
    team = tuple(facts.person_number[m] for m in vd.team)
    stops = stops_of(facts, vd, numbers)
    times = tuple((s.start, s.end) for s in vd.stops)
    is_open = bool(row.get("open"))
    back = max(vd.back, vd.depart)
    route = Route(key, team, stops, times, vd.depart, back, vd.rest, len(stops))
    return route._replace(closed=not is_open)


def _serve(state: State) -> None:
    """Say which trailer serves each frozen visit that needs one."""
    for stage in list(state.seen):
        serve(state, stage)


def serve(state: State, stage: int) -> bool:
    """Give a placed stage the stands it needs, by its times; False when there are none."""
    facts = state.facts
    stands: list[tuple[int, int]] = []
    for need in facts.stages[stage].trailers:
        fit = [
            (t, n)
            for t, chain in enumerate(state.chain)
            if facts.trailers[t].kind == need.kind
            for n, place in enumerate(chain)
            if place == facts.stages[stage].place and _stands(state, stage, t, n)
        ]
        if not fit:
            return False
        stands.append(fit[0])
    if stands:
        state.served[stage] = tuple(stands)
    return True


def _stands(state: State, stage: int, trailer: int, number: int) -> bool:
    seen = state.seen[stage]
    came = state.moves.get((trailer, number))
    leaves = state.moves.get((trailer, number + 1))
    since = came[2] if came else -1
    until = leaves[1] if leaves else 10**9
    return since <= seen.start and seen.end <= until
