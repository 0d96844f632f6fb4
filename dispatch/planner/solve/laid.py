"""Lays a whole plan into a week as it stands, to try changes on."""

from collections.abc import Iterable, Mapping
from typing import Any

from dispatch.planner.plan import Plan, VanDay
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.frozen import number_tows, serve, stops_of
from dispatch.planner.solve.state import Route, State

Frozen = Mapping[tuple[str, int], Mapping[str, Any]]


def laid(facts: Facts, plan: Plan) -> State:
    """Return the week of a plan that keeps every rule, its times as they are."""
    state = State(facts)
    for job, way in enumerate(facts.jobs):
        if way.variants:
            state.chosen[job] = plan.chosen[way.id]
    numbers = number_tows(facts, list(plan.van_days), state)
    frozen = {(row["van"], row["day"]): row for row in facts.problem.frozen}
    for vd in plan.van_days:
        row = frozen.get((vd.van, vd.day))
        state.put(_route(facts, vd, stops_of(facts, vd, numbers), row))
    for stage in list(state.seen):
        serve(state, stage)
    return state


def _route(
    facts: Facts, vd: VanDay, stops: tuple[Any, ...], frozen: Mapping[str, Any] | None
) -> Route:
    """Return the van-day; what of it is frozen is held."""
    return Route(
        (facts.van_number[vd.van], vd.day),
        tuple(facts.person_number[m] for m in vd.team),
        stops,
        tuple((s.start, s.end) for s in vd.stops),
        vd.depart,
        vd.back,
        vd.rest,
        len(frozen["stops"]) if frozen else 0,
        closed=frozen is not None and not frozen.get("open"),
    )


def copied(state: State) -> State:
    """Return a week of its own that is the same now."""
    twin = State(state.facts)
    twin.routes, twin.seen = dict(state.routes), dict(state.seen)
    twin.moves, twin.served = dict(state.moves), dict(state.served)
    twin.chosen, twin.chain = dict(state.chosen), list(state.chain)
    twin.busy, twin.paid = list(state.busy), list(state.paid)
    return twin


def followers(facts: Facts, stages: Iterable[int]) -> set[int]:
    """Return the stages and everything that comes after one of them."""
    found, todo = set[int](), list(stages)
    while todo:
        stage = todo.pop()
        if stage not in found:
            found.add(stage)
            todo += [other for other, *_ in facts.succs[stage]]
    return found
