"""Takes stages out of a week, and with them the tows and van-days nothing needs any more."""

from collections.abc import Iterable
from operator import itemgetter

from dispatch.planner.solve.state import Move, Route, State, Stop
from dispatch.planner.solve.timing import best_route


def removable(state: State, stage: int) -> bool:
    """Whether a placed stage may be taken out: not done, not under way, not pinned."""
    if state.facts.stages[stage].pinned is not None:
        return False
    route = state.routes[state.seen[stage].key]
    return not route.closed and stage not in route.stops[: route.held]


def remove(state: State, stages: Iterable[int]) -> None:
    """Take the stages out where they may be taken out."""
    gone = {s for s in stages if s in state.seen and removable(state, s)}
    for key in sorted({state.seen[s].key for s in gone}):
        route = state.routes[key]
        _keep(state, route, tuple(s for s in route.stops if s not in gone))
    for stage in gone:
        state.served.pop(stage, None)
    _idle_tows(state)


def _keep(state: State, route: Route, stops: tuple[Stop, ...]) -> None:
    """Let a van-day go on with these stops alone, at their hours or retimed; without any when that fails."""
    if stops == route.stops:
        return
    held = route.stops[: route.held]
    if len(stops) > len(held) or held:
        had = {
            stop: start
            for stop, (start, _) in zip(route.stops, route.times, strict=True)
        }
        ways = (
            best_route(state, route.key, route.team, stops, since)
            for since in (tuple(had[s] for s in stops), ())
        )
        found = min(filter(None, ways), key=itemgetter(0), default=None)
        if found is None and stops != held:
            found = best_route(state, route.key, route.team, held)
        if found is not None or held:
            kept = found[1] if found else _as_held(route)
            _settle(state, route, kept)
            return
    state.drop(route.key)
    _forget(state, route.stops)


def _as_held(route: Route) -> Route:
    times = route.times[: route.held]
    return route._replace(stops=route.stops[: route.held], times=times)


def _settle(state: State, was: Route, kept: Route) -> None:
    state.put(kept)
    _forget(state, [s for s in was.stops if s not in kept.stops])


def _forget(state: State, stops: Iterable[Stop]) -> None:
    for stop in stops:
        if not isinstance(stop, Move):
            state.served.pop(stop, None)


def _idle_tows(state: State) -> None:
    """Undo the last move of a trailer while nothing is served where it went."""
    for trailer, chain in enumerate(state.chain):
        for number in range(len(chain) - 1, 0, -1):
            used = [s for s in state.at_stand(trailer, number) if s in state.seen]
            if used or not _undo(state, trailer, number):
                break


def _undo(state: State, trailer: int, number: int) -> bool:
    at = state.moves.get((trailer, number))
    if at is not None:
        route = state.routes[at[0]]
        moves = [s for s in route.stops[route.held :] if isinstance(s, Move)]
        mine = [m for m in moves if (m.trailer, m.number) == (trailer, number)]
        if route.closed or not mine:
            return False
        _keep(state, route, tuple(s for s in route.stops if s != mine[0]))
    state.chain[trailer] = state.chain[trailer][:number]
    return True


def orphans(state: State) -> list[int]:
    """Return placed stages that wait for a stage of the plan that is not placed."""
    facts = state.facts
    return [
        s
        for s in state.seen
        if any(p not in state.seen and state.here(p) for p, *_ in facts.preds[s])
    ]


def close(state: State) -> None:
    """Take out what waits for nothing placed, until all is in order."""
    while lost := [s for s in orphans(state) if removable(state, s)]:
        remove(state, lost)
