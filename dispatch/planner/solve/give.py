"""Hands a week in the making over as a plan."""

from dispatch.planner.plan import Plan, Tow, VanDay, Visit
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.state import Move, Route, State


def give(state: State) -> Plan:
    """Return the plan: van-days and chosen variants; what is left out is explained elsewhere."""
    facts = state.facts
    routes = [
        state.routes[key] for key in sorted(state.routes, key=lambda k: (k[1], k[0]))
    ]
    return Plan(
        van_days=tuple(_van_day(facts, route) for route in routes),
        chosen={facts.jobs[j].id: name for j, name in sorted(state.chosen.items())},
    )


def _van_day(facts: Facts, route: Route) -> VanDay:
    return VanDay(
        van=facts.vans[route.key[0]].id,
        day=route.key[1],
        team=tuple(facts.people[m].id for m in route.team),
        depart=route.depart,
        back=route.back,
        rest=route.rest,
        stops=tuple(
            _tow(facts, stop, times)
            if isinstance(stop, Move)
            else Visit(stage=facts.stages[stop].id, start=times[0], end=times[1])
            for stop, times in zip(route.stops, route.times, strict=True)
        ),
    )


def _tow(facts: Facts, move: Move, times: tuple[int, int]) -> Tow:
    names = facts.problem.places
    return Tow(
        trailer=facts.trailers[move.trailer].id,
        origin=names[move.origin],
        to=names[move.to],
        start=times[0],
        end=times[1],
    )
