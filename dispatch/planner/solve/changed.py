"""What a change by hand makes of a plan: the week as a plan again, neither judged nor priced."""

from collections.abc import Set
from dataclasses import replace

from dispatch.planner.plan import Plan, Tow, Unplaced, VanDay, Visit
from dispatch.planner.problem import Problem
from dispatch.planner.solve.state import Key, Move, Route, State, Stop
from dispatch.planner.solve.timing import best_route

_BY_HAND = "It was taken out by hand."


def frozen(problem: Problem) -> set[str]:
    """Return the stages that are done or under way."""
    stops = (stop for row in problem.frozen for stop in row["stops"])
    return {stop["stage"] for stop in stops if stop["do"] == "visit"}


def held(problem: Problem, plan: Plan, loose: Set[str]) -> Problem:
    """Return the problem in which every visit but the loose ones may be where it is alone."""
    seen = plan.visits()
    stages = {
        name: replace(row, windows=((seen[name][1].start, seen[name][1].end),))
        if name in seen and name not in loose
        else row
        for name, row in problem.stages.items()
    }
    return replace(problem, stages=stages)


def timed(
    state: State, key: Key, team: tuple[int, ...], stops: tuple[Stop, ...]
) -> bool:
    """Let a van-day go on with these stops, in their best timing; whether there is one."""
    found = best_route(state, key, team, stops)
    if found is None:
        return False
    state.put(found[1])
    return True


def as_plan(state: State, plan: Plan) -> Plan:
    """Return the week as a plan; what was left out is, unless it is in now."""
    rows = sorted(state.routes.values(), key=lambda r: (r.key[1], r.key[0]))
    made = replace(plan, van_days=tuple(_van_day(state, row) for row in rows))
    seen = made.visits()
    lost = sorted(plan.visits().keys() - seen.keys())
    left = [row for row in plan.unplaced if row.stage not in seen]
    left += [Unplaced(stage=name, code="no-room", why=_BY_HAND) for name in lost]
    return replace(made, unplaced=tuple(left), bound=None)


def _van_day(state: State, route: Route) -> VanDay:
    facts = state.facts
    return VanDay(
        van=facts.vans[route.key[0]].id,
        day=route.key[1],
        team=tuple(facts.people[m].id for m in route.team),
        depart=route.depart,
        back=route.back,
        rest=route.rest,
        stops=tuple(
            _stop(state, stop, times)
            for stop, times in zip(route.stops, route.times, strict=True)
        ),
    )


def _stop(state: State, stop: Stop, times: tuple[int, int]) -> Visit | Tow:
    facts, (start, end) = state.facts, times
    if isinstance(stop, Move):
        places = facts.problem.places
        return Tow(
            trailer=facts.trailers[stop.trailer].id,
            origin=places[stop.origin],
            to=places[stop.to],
            start=start,
            end=end,
        )
    return Visit(stage=facts.stages[stop].id, start=start, end=end)
