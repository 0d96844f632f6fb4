"""Small certain gains: another team for a van-day, its stops timed anew."""

from dispatch.planner.solve.facts import mask
from dispatch.planner.solve.insert import Inserter
from dispatch.planner.solve.money import jobs_delta, route_cents
from dispatch.planner.solve.remove import route_stages
from dispatch.planner.solve.state import Key, Route, State
from dispatch.planner.solve.timing import best_route, is_open


def polish(inserter: Inserter, state: State) -> None:
    """Give each free van-day its cheapest team and timing, one after another."""
    for key in sorted(state.routes):
        route = state.routes[key]
        if not route.closed:
            _retune(inserter, state, key, route)


def _retune(inserter: Inserter, state: State, key: Key, route: Route) -> None:
    best, cents = None, route_cents(state, route) - 1e-6
    for team in _teams(inserter, state, key, route):
        found = best_route(state, key, team, route.stops)
        if found is None:
            continue
        now = found[0] + jobs_delta(state, found[1])
        if now < cents:
            best, cents = found[1], now
    if best is not None:
        state.put(best)


def _teams(
    inserter: Inserter, state: State, key: Key, route: Route
) -> list[tuple[int, ...]]:
    if is_open(state, key):
        return [route.team]
    stages = frozenset(route_stages(state, key))
    free = inserter.teams.on_duty[key[1]] & ~state.busy[key[1]] | mask(route.team)
    seats = state.facts.vans[key[0]].seats
    chosen = inserter.teams.choose(free, seats, stages)
    return list(dict.fromkeys([route.team, *chosen[:8]]))
