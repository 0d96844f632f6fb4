"""Plans with one change made by hand: a visit put elsewhere, others riding, a job taken out; nothing else is searched.

All else keeps its times where it can; else the stops of the van-days concerned slide to make room. Fast enough
to be asked while a hand waits: no search, no compiled code.
"""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, replace

from dispatch.planner.plan import Plan, Visit
from dispatch.planner.problem import Pin, Problem
from dispatch.planner.solve.changed import as_plan, held, timed
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.laid import laid
from dispatch.planner.solve.remove import close, remove
from dispatch.planner.solve.state import Key, Route, State, Stop


@dataclass(frozen=True, kw_only=True, slots=True)
class Where:
    """A van's day by the van's id and the day's number from 0, and a minute; the team where that van has none yet."""

    van: str
    day: int
    start: int
    team: tuple[str, ...] = ()


def placed(problem: Problem, plan: Plan, stage: str, where: Where) -> Iterator[Plan]:
    """Yield plans with a visit at a van's day and minute: all else where it is, then that day's stops let slide."""
    for free in (False, True):
        found = _placed(problem, plan, stage, where, free=free)
        if found is not None:
            yield found


def _placed(
    problem: Problem, plan: Plan, stage: str, where: Where, *, free: bool
) -> Plan | None:
    loose = _stops_of(plan, where) if free else set()
    narrow = held(problem, plan, loose | {stage})
    key = (list(problem.vans).index(where.van), where.day)
    row = narrow.stages[stage]
    there = replace(row, pinned=Pin(van=where.van, start=where.start))
    narrow = replace(narrow, stages={**narrow.stages, stage: there})
    state = laid(Facts(narrow), plan)
    number = state.facts.number[stage]
    if _taken_out(state, number, key) and _put_in(state, number, key, where):
        return as_plan(state, plan)
    return None


def _stops_of(plan: Plan, where: Where) -> set[str]:
    return {
        stop.stage
        for vd in plan.van_days
        if (vd.van, vd.day) == (where.van, where.day)
        for stop in vd.stops
        if isinstance(stop, Visit)
    }


def _taken_out(state: State, number: int, key: Key) -> bool:
    """Take a visit out of its van-day; whether that goes on without it. Its place in the same van-day is left to come."""
    seen = state.seen.get(number)
    state.served.pop(number, None)
    if seen is None or seen.key == key:
        return True
    route = state.routes[seen.key]
    stops = tuple(stop for stop in route.stops if stop != number)
    if stops:
        return timed(state, route.key, route.team, stops)
    state.drop(seen.key)
    return True


def _put_in(state: State, number: int, key: Key, where: Where) -> bool:
    route = state.routes.get(key)
    team = route.team if route else _team(state, where)
    if not team or not _stand(state, number, where.start):
        return False
    stops = _ordered(route, number, where.start)
    return timed(state, key, team, stops)


def _team(state: State, where: Where) -> tuple[int, ...]:
    known = state.facts.person_number
    return tuple(sorted(known[name] for name in where.team if name in known))


def _ordered(route: Route | None, number: int, start: int) -> tuple[Stop, ...]:
    """Return the stops with this one among them by its minute, after whatever is done."""
    rows = [
        (begins, stop)
        for at, (stop, (begins, _)) in enumerate(
            zip(route.stops, route.times, strict=True) if route else ()
        )
        if at >= (route.held if route else 0) and stop != number
    ]
    before = tuple(stop for begins, stop in rows if begins < start)
    after = tuple(stop for begins, stop in rows if begins >= start)
    held = route.stops[: route.held] if route else ()
    return (*held, *before, number, *after)


def _stand(state: State, number: int, start: int) -> bool:
    """Give the visit the trailers it needs where they stand then; whether they do."""
    stage, stands = state.facts.stages[number], []
    for need in stage.trailers:
        fit = [
            (trailer, n)
            for trailer, chain in enumerate(state.chain)
            for n, place in enumerate(chain)
            if state.facts.trailers[trailer].kind == need.kind
            and place == stage.place
            and _there(state, (trailer, n), start)
        ]
        if not fit:
            return False
        stands.append(fit[0])
    if stands:
        state.served[number] = tuple(stands)
    return True


def _there(state: State, stand: tuple[int, int], start: int) -> bool:
    came = state.moves.get(stand)
    leaves = state.moves.get((stand[0], stand[1] + 1))
    return (came is None or came[2] <= start) and (leaves is None or start < leaves[1])


def _ride(state: State, day: int, teams: Mapping[str, tuple[str, ...]]) -> bool:
    facts = state.facts
    routes = {van: state.routes[facts.van_number[van], day] for van in teams}
    for route in routes.values():
        state.drop(route.key)
    for route in routes.values():
        # All are back before any is timed: each is bound by the others.
        state.put(route)
    return all(
        timed(
            state,
            route.key,
            tuple(sorted(facts.person_number[name] for name in teams[van])),
            route.stops,
        )
        for van, route in routes.items()
    )


def swapped(
    problem: Problem, plan: Plan, day: int, teams: Mapping[str, tuple[str, ...]]
) -> Iterator[Plan]:
    """Yield plans in which these teams ride these vans on a day: in their hours, then in others that day."""
    loose = {
        stop.stage
        for vd in plan.van_days
        if vd.day == day and vd.van in teams
        for stop in vd.stops
        if isinstance(stop, Visit)
    }
    for free in (set[str](), loose):
        state = laid(Facts(held(problem, plan, free)), plan)
        if _ride(state, day, teams):
            yield as_plan(state, plan)


def taken_out(problem: Problem, plan: Plan, stages: Set[str]) -> Plan:
    """Return the plan without these visits and whatever needs them; the others keep their times."""
    state = laid(Facts(held(problem, plan, stages)), plan)
    remove(state, [state.facts.number[name] for name in stages])
    close(state)
    return as_plan(state, plan)
