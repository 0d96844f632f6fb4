"""Weeks of the compiled search against witnesses that share no code with it."""

import json

import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.core.calls import total_cents
from dispatch.planner.core.encode import encode
from dispatch.planner.core.shapes import PLACES
from dispatch.planner.core.stage_rows import TooLarge
from dispatch.planner.plan import write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.frozen import fresh
from dispatch.planner.solve.start import Start
from dispatch.planner.solve.timing import best_route
from dispatch.planner.solve.walker import Walker
from tests.planner.weeks import faults, made

WEEKS = [("small", 4), ("small+", 5), ("10x3x6+", 6), ("12x3x7", 7), ("medium+", 8)]


def searched(size, seed, **effort):
    problem = made(size, seed)
    work = {"seconds": 600, "steps": 300} | effort
    build = Build(read_problem(problem), Effort(**work), lambda _: None)
    return problem, build, build.run(Start())


@pytest.mark.parametrize(("size", "seed"), WEEKS)
def test_what_it_finds_breaks_no_rule_and_costs_what_it_says(size, seed):
    problem, build, plan = searched(size, seed)
    assert faults(problem, json.loads(json.dumps(write_plan(plan)))) == []
    claimed = total_cents(build.search.given, build.search.best)
    # Seven parts of the exact cost are rounded to whole cents, each by half a cent at most.
    assert claimed == pytest.approx(plan.cost["total"], abs=4)


@pytest.mark.parametrize(("size", "seed"), WEEKS)
def test_van_days_are_timed_as_well_as_by_the_plain_clock(size, seed):
    problem, build, plan = searched(size, seed)
    state = fresh_with(problem, write_plan(plan)["van_days"])
    vans, ours, plain = len(build.search.facts.vans), 0, 0
    for key, route in state.routes.items():
        found = best_route(state, key, route.team, route.stops)
        assert found is not None
        plain += found[1].paid
        ours += int(build.search.best["routes"][key[1] * vans + key[0]]["paid"])
    # A van-day timed before its neighbours moved may be a little behind until it is timed again.
    assert ours <= 1.02 * plain


def fresh_with(problem, van_days):
    """Return the plain week with these van-days in it, none of them closed to change."""
    rows = [
        {k: v for k, v in vd.items() if k != "back"} | {"open": False}
        for vd in van_days
    ]
    state = fresh(Facts(read_problem(problem | {"frozen": rows})))
    for key, route in list(state.routes.items()):
        state.routes[key] = route._replace(held=0, closed=False)
    return state


def test_many_walks_give_the_same_week_again():
    plans = [searched("small+", 3, workers=2)[2] for _ in range(2)]
    assert plans[0] == plans[1]


def test_walking_on_lowers_the_cost():
    _, build, _ = searched("12x3x7", 9, steps=0)
    walker = Walker(build.search.given, build.search.best, 1)
    before = walker.least
    walker.steps(500, 100.0)
    assert walker.least < before


def test_a_week_with_too_many_places_is_refused_with_a_sentence():
    problem = made("small", 1)
    many = [{"id": f"p{i}", "lat": 0.0, "lon": 0.0} for i in range(PLACES + 1)]
    problem["places"] = [*problem["places"], *many][: PLACES + 1]
    zeros = [[0] * len(problem["places"]) for _ in problem["places"]]
    problem |= {"drive_min": zeros, "drive_m": zeros}
    with pytest.raises(TooLarge, match="at most 1100 places; this week has 1101"):
        encode(read_problem(problem))


@pytest.mark.parametrize(("size", "seed"), WEEKS)
def test_each_trailer_knows_the_placed_stages_it_serves(size, seed):
    _, build, _ = searched(size, seed)
    walker = Walker(build.search.given, build.search.best, 1)
    walker.steps(200, 1000.0)
    trailers = range(int(build.search.given["n_trailers"]))
    for week in (build.search.best, walker.now, walker.best):
        seen = week["seen"][: int(week["n_stages"])]
        served = [set() for _ in trailers]
        for stage, row in enumerate(seen):
            for trailer in row["trailer"][: row["stands"] if row["route"] >= 0 else 0]:
                served[trailer].add(stage)
        for trailer in trailers:
            chain = week["chains"][trailer]
            assert sorted(chain["guests"][: chain["many"]]) == sorted(served[trailer])


def test_bits_tell_who_can_do_what_at_which_level():
    problem = made("medium", 1)
    given = encode(read_problem(problem))
    stages = {row["id"]: given["stages"][i] for i, row in enumerate(problem["stages"])}
    for i, person in enumerate(problem["people"]):
        can = int(given["people"][i]["can"])
        for row in problem["stages"]:
            able = all(
                person["skills"].get(need["skill"], 0) >= need["level"]
                for need in row["needs"]
            )
            wants = int(stages[row["id"]]["wants"])
            assert (can & wants == wants) == able
            counts = any(need["count"] > 1 for need in row["needs"])
            assert bool(stages[row["id"]]["counts"]) == counts
