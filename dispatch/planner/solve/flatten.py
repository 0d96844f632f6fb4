"""Lays a week of Python's making into the compiled search's arrays."""

from dispatch.planner.core.calls import measure_all
from dispatch.planner.core.shapes import CHAIN, Given, Rows, Week
from dispatch.planner.core.weeks import empty_week
from dispatch.planner.solve.money import van_cents, visit_cents
from dispatch.planner.solve.state import Move, Route, State, Stop

OPEN, CLOSED = 1, 2


def flatten(state: State, given: Given, seed: int) -> Week:
    """Return the same week as arrays: its van-days, stands, moves and chosen variants."""
    week = empty_week(given, seed)
    for job, name in state.chosen.items():
        week["chosen"][job] = state.facts.jobs[job].variants.index(name)
    for trailer, chain in enumerate(state.chain):
        _chain(week["chains"][trailer], chain)
    for route in state.routes.values():
        _van_day(state, week, route)
    for stage, stands in state.served.items():
        _stands(week, stage, stands)
    measure_all(given, week)
    return week


def _chain(row: Rows, places: tuple[int, ...]) -> None:
    """Write the stands of a trailer, numbered in order."""
    many = len(places)
    row["count"], row["last"] = many, many - 1
    row["place"][:many] = places
    row["rank"][:many] = range(many)
    row["prior"][1:many] = range(many - 1)
    row["next"][: many - 1] = range(1, many)


def _van_day(state: State, week: Week, route: Route) -> None:
    facts, (van, day) = state.facts, route.key
    number = day * len(facts.vans) + van
    row = week["routes"][number]
    row["count"], row["size"] = len(route.stops), len(route.team)
    row["depart"], row["back"], row["paid"] = route.depart, route.back, route.paid
    row["rest"] = route.rest[0] if route.rest else -1
    row["held"] = route.held
    if route.closed:
        row["lock"] = CLOSED
    elif route.key in facts.open:
        row["lock"] = OPEN
        row["taken"] = facts.taken.get(route.key, (-1, -1))[0]
    row["other"] = _other(state, route)
    for k, person in enumerate(route.team):
        row["team"][k] = person
        week["busy"][day, person] = 1
        week["paid"][person] += route.paid
    for i, (stop, span) in enumerate(zip(route.stops, route.times, strict=True)):
        row["stop"][i] = _code(stop)
        row["start"][i], row["end"][i] = span
        _seen(state, week, stop, (number, *span))


def _other(state: State, route: Route) -> float:
    """Return a van-day's cents beside wages."""
    day = route.key[1]
    visits = [
        visit_cents(state, stop, day, start)
        for stop, (start, _) in zip(route.stops, route.times, strict=True)
        if not isinstance(stop, Move)
    ]
    return van_cents(state, route.key, route.stops) + sum(visits)


def _code(stop: Stop) -> int:
    if isinstance(stop, Move):
        return -1 - (stop.trailer * CHAIN + stop.number)
    return stop


def _seen(state: State, week: Week, stop: Stop, at: tuple[int, int, int]) -> None:
    number, start, end = at
    if isinstance(stop, Move):
        chain = week["chains"][stop.trailer]
        chain["route"][stop.number] = number
        chain["start"][stop.number], chain["end"][stop.number] = start, end
        return
    row = week["seen"][stop]
    row["route"], row["start"], row["end"] = number, start, end
    row["held"] = state.seen[stop].held_until


def _stands(week: Week, stage: int, stands: tuple[tuple[int, int], ...]) -> None:
    row = week["seen"][stage]
    if row["route"] < 0:
        return
    row["stands"] = len(stands)
    for k, (trailer, number) in enumerate(stands):
        row["trailer"][k], row["number"][k] = trailer, number
        chain = week["chains"][trailer]
        chain["guests"][chain["many"]] = stage
        chain["many"] += 1
