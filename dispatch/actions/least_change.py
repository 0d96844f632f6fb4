"""What a plan of the rest changes for next to nothing is put back: who rides, and visits shifted by minutes.

The search may swap two people, or start a visit a quarter hour later, for a few cents or for nothing. Whoever was told
otherwise would not call that better; so each such change is taken back where no rule forbids it, nothing falls out and
the week costs hardly more.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.actions import rates
from dispatch.planner.by_hand import Done, Where, put, swap
from dispatch.planner.plan import Plan, read_plan, write_plan
from dispatch.planner.problem import Problem
from dispatch.planner.read import read_problem

Row = Mapping[str, Any]
Trip = tuple[str, int]


def settled(problem: Row, answer: Row, standing: Row) -> dict[str, Any]:
    """Return an answer with its idle changes against a standing plan taken back; all three by contract."""
    week, before = read_problem(problem), _read(standing)
    plan = _read(answer)
    for trip in _trips(before):
        plan = _same_team(week, plan, before, trip)
    for stage in before.visits():
        plan = _same_hour(week, plan, before, stage)
    return {**answer, **write_plan(plan), "bound": answer.get("bound")}


def _read(row: Row) -> Plan:
    return read_plan({**row, "bound": None})


def _trips(plan: Plan) -> Iterator[Trip]:
    yield from ((row.van, row.day) for row in plan.van_days)


def _team(plan: Plan, trip: Trip) -> set[str]:
    rows = (row.team for row in plan.van_days if (row.van, row.day) == trip)
    return set(next(rows, ()))


def _same_team(week: Problem, plan: Plan, before: Plan, trip: Trip) -> Plan:
    """Let those ride who were told so, as long as as many ride."""
    was, now = _team(before, trip), _team(plan, trip)
    for out, into in zip(sorted(now - was), sorted(was - now), strict=False):
        if len(was) == len(now):
            plan = _fewer(plan, before, swap(week, plan, trip, out, into))
    return plan


def _same_hour(week: Problem, plan: Plan, before: Plan, stage: str) -> Plan:
    """Start a visit when people were told, where it is with the same van on the same day and off by little."""
    now = plan.visits().get(stage)
    trip, visit = before.visits()[stage]
    if now is None or (now[0].van, now[0].day) != (trip.van, trip.day):
        return plan
    if not 0 < abs(now[1].start - visit.start) <= rates.planning().told_within_minutes:
        return plan
    where = Where(van=trip.van, day=trip.day, start=visit.start)
    return _fewer(plan, before, put(week, plan, stage, where))


def _fewer(plan: Plan, before: Plan, done: Done) -> Plan:
    """The changed plan where it differs less from what stands, loses nothing and costs hardly more."""
    if done.plan is None or done.lost:
        return plan
    if done.cents > rates.planning().told_shift_cents:
        return plan
    return done.plan if _changes(done.plan, before) < _changes(plan, before) else plan


def _changes(plan: Plan, before: Plan) -> int:
    """How many visits start at another minute, and how many people ride elsewhere, than stands."""
    now, was = plan.visits(), before.visits()
    starts = sum(
        name in was and was[name][1].start != row[1].start for name, row in now.items()
    )
    trips = {*_trips(plan), *_trips(before)}
    return starts + sum(len(_team(plan, t) ^ _team(before, t)) for t in trips)
