"""Which van-days a block of stages could be part of at all."""

from collections import Counter

from dispatch.planner.solve.spans import clip
from dispatch.planner.solve.stands import Serving
from dispatch.planner.solve.state import Key, Move, Route, State

MANY = 30


def keys_for(
    state: State, block: tuple[int, ...], serving: Serving, *, tight: bool
) -> list[Key]:
    """Return the van-days worth trying, the likeliest few when there are many."""
    days = [
        d for d in range(len(state.facts.problem.days)) if _day(state, block, d, tight)
    ]
    vans = [v for v in range(len(state.facts.vans)) if _van(state, block, serving, v)]
    keys = [(v, d) for d in days for v in vans if _free(state, block, (v, d))]
    tied = _tied(state, block)
    if tied is not None:
        return [key for key in keys if key == tied]
    if len(keys) > MANY:
        keys.sort(key=lambda key: _detour(state, block[0], key))
        keys = keys[:MANY]
    return keys


def _day(state: State, block: tuple[int, ...], day: int, tight: bool) -> bool:  # noqa: FBT001 - private
    facts = state.facts
    first, last = facts.problem.days[day]
    if last <= facts.problem.now:
        return False
    for stage in block:
        quickest = min(facts.stages[stage].minutes.values())
        if not facts.starts(stage, day, quickest):
            return False
        chosen = state.chosen.get(facts.job_of[stage])
        if tight and not clip(facts.reach(stage, chosen), first, last):
            return False
        if not _between(state, stage, (first, last)):
            return False
    return True


def _between(state: State, stage: int, day: tuple[int, int]) -> bool:
    """Whether what is placed before and after the stage leaves that day open."""
    for other, low, _, _ in state.facts.preds[stage]:
        seen = state.seen.get(other)
        least = low if isinstance(low, int) else 0
        if seen is not None and seen.end + least >= day[1]:
            return False
    for other, _, _, _ in state.facts.succs[stage]:
        seen = state.seen.get(other)
        if seen is not None and seen.start <= day[0]:
            return False
    return True


def _van(state: State, block: tuple[int, ...], serving: Serving, van: int) -> bool:
    facts, v = state.facts, state.facts.vans[van]
    if any(facts.trailers[m.trailer].towed for m in serving.moves) and not v.tows:
        return False
    return all(
        facts.stages[s].gear <= v.gear and min(facts.stages[s].minutes) <= v.seats
        for s in block
    )


def _free(state: State, block: tuple[int, ...], key: Key) -> bool:
    """Whether the van rides that day, is not closed, and has the supplies left."""
    van, route = state.facts.vans[key[0]], state.routes.get(key)
    if van.duty[key[1]] is None or (route is not None and route.closed):
        return False
    load = _load(state, route)
    for stage in block:
        load.update(state.facts.stages[stage].supplies)
    return all(van.carries.get(k, 0) >= amount for k, amount in load.items())


def _load(state: State, route: Route | None) -> Counter[str]:
    load: Counter[str] = Counter()
    for stop in route.stops if route else ():
        if not isinstance(stop, Move):
            load.update(state.facts.stages[stop].supplies)
    return load


def _tied(state: State, block: tuple[int, ...]) -> Key | None:
    """Return the van-day the block must be in, because its neighbour in order is there."""
    facts = state.facts
    for stage in block:
        for other, _, _, same in (*facts.preds[stage], *facts.succs[stage]):
            if same and other in state.seen:
                return state.seen[other].key
    return None


def _detour(state: State, stage: int, key: Key) -> int:
    """Return the minutes from the nearest thing the van does that day to the stage and back."""
    facts, matrix = state.facts, state.facts.problem.drive_min
    to, route = facts.stages[stage].place, state.routes.get(key)
    base = facts.vans[key[0]].base
    if route is None:
        return 60 + matrix[base][to] + matrix[to][base]
    places = [facts.stages[s].place for s in route.stops if not isinstance(s, Move)]
    return min((matrix[at][to] + matrix[to][at] for at in places), default=60)
