"""A van's outings change days, all of them in one step."""

import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.plan import Plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from dispatch.planner.solve.walker import Walker
from tests.planner.weeks import DAY, tiny, with_stage

DAYS, VISITS = 8, 3  # a day: more in all than a step takes out otherwise
STEPS, COLD = 12_000, 10.0
LONG = {"1": 300, "2": 160}


def hours(day: int) -> list[int]:
    return [day * DAY + 420, day * DAY + 1020]


def week(spans: dict[str, list[int]]) -> dict:
    """Return days of one van with three boats that fill each; `spans` says on which days each three may be done."""
    problem = tiny(
        days=[[d * DAY, (d + 1) * DAY] for d in range(DAYS)], **{"break": None}
    )
    for row in problem["people"]:
        row["duty"] = [hours(d) for d in range(DAYS)]
    for row in problem["vans"]:
        row["duty"] = [[d * DAY, (d + 1) * DAY] for d in range(DAYS)]
    for name, days in spans.items():
        windows = [hours(d) for d in days]
        for k in range(VISITS):
            boat = f"{name}-{k}"
            problem = with_stage(problem, boat, "quay", LONG, windows=windows)
    for row in problem["jobs"]:
        row["unfinished_cents"] = 200_000
        row["finish_cents_per_hour"] = 0 if row["id"].startswith("last") else 100
    return problem


def build(problem: dict) -> Build:
    return Build(read_problem(problem), Effort(seconds=60, steps=50), lambda _: None)


def order(plan: Plan) -> list[str]:
    """Return which three boats are done each day."""
    stops = [stop for row in plan.van_days for stop in row.stops]
    stops.sort(key=lambda stop: stop.start)
    threes = [stop.stage.split("-")[0] for stop in stops]
    assert threes == [name for name in threes[::VISITS] for _ in range(VISITS)]
    return threes[::VISITS]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_all_outings_change_days_at_once_where_no_fewer_could(seed):
    boats = [f"three {k}" for k in range(DAYS - 1)]
    # All come a day late because those that may come last are first.
    late = {name: [k + 1] for k, name in enumerate(boats)}
    told = build(week(late | {"last": [0]}))
    assert order(told.run(Start())) == ["last", *boats]
    free = {name: [k, k + 1] for k, name in enumerate(boats)}
    problem = week(free | {"last": [0, DAYS - 1]})
    walker = Walker(build(problem).search.given, told.search.best, seed)
    walker.steps(STEPS, COLD)
    assert order(to_plan(read_problem(problem), walker.best)) == [*boats, "last"]
