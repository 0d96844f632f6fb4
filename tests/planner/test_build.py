"""What the planner gives is valid, the same for the same seed, and the best on tiny weeks."""

import copy
from itertools import combinations, permutations

import pytest

from dispatch.planner.problem import InvalidProblem
from tests.bench.standing import replanned
from tests.planner.weeks import (
    faults,
    made,
    outside,
    planned,
    tiny,
    with_stage,
)


@pytest.mark.parametrize(
    ("size", "seed", "steps"),
    [
        ("small", 1, 15),
        ("small", 2, 15),
        ("small+", 1, 15),
        ("small+", 3, 15),
        ("medium", 1, 2),
        ("medium+", 2, 2),
    ],
)
def test_the_outside_judge_finds_nothing(size, seed, steps):
    problem = made(size, seed)
    assert faults(problem, planned(problem, steps=steps)) == []


def test_the_same_seed_and_steps_give_the_same_plan():
    problem = made("small+", 2)
    assert planned(problem, steps=12) == planned(problem, steps=12)


def test_more_steps_never_cost_more():
    problem = made("small", 3)
    few, many = (planned(problem, steps=n)["cost"]["total"] for n in (0, 20))
    assert many <= few


def test_the_bound_lies_below_the_cost():
    plan = planned(made("small", 1), steps=5)
    assert 0 < plan["bound"] <= plan["cost"]["total"]


def test_a_quick_plan_is_valid_too():
    problem = made("small", 2)
    plan = planned(problem, steps=0)
    assert faults(problem, plan) == []


def three_jobs():
    problem = with_stage(tiny(), "A", "quay", {"1": 90, "2": 50})
    problem = with_stage(problem, "B", "dock", {"1": 60}, windows=[[600, 760]])
    return with_stage(problem, "C", "quay", {"2": 80}, windows=[[480, 700]])


def priced(problem, team, order, depart):
    """Return the least total of one van-day, every minute of departure tried by the caller."""
    at, now, visits, waited = 0, depart, [], {"A": 1, "B": 2, "C": 1}
    for name in order:
        stage = next(s for s in problem["stages"] if s["job"] == name)
        sizes = [int(k) for k in stage["minutes"] if int(k) <= len(team)]
        if not sizes:
            return None
        place = waited[name]
        start = max(now + problem["drive_min"][at][place], stage["windows"][0][0])
        end = start + stage["minutes"][str(max(sizes))]
        if end > stage["windows"][0][1]:
            return None
        visits.append({"do": "visit", "stage": stage["id"], "start": start, "end": end})
        at, now = place, end
    back = now + problem["drive_min"][at][0]
    if back > 1020 or back - depart > 360:
        return None
    day = {"van": "V", "day": 0, "team": list(team), "depart": depart, "back": back}
    left = [s["id"] for s in problem["stages"] if s["job"] not in order]
    return {
        "format": "week-plan/2",
        "van_days": [day | {"break": None, "stops": visits}],
        "chosen": {},
        "unplaced": [{"stage": s, "code": "no-room", "why": "Left."} for s in left],
        "cost": dict.fromkeys(
            ("wages", "vans", "late", "finish", "risk", "dropped", "moved", "total"), 0
        ),
        "bound": None,
    }


def every_total(problem):
    check = outside("check_week").Check
    jobs = [j["id"] for j in problem["jobs"]]
    orders = [
        o for n in (1, 2, 3) for c in combinations(jobs, n) for o in permutations(c)
    ]
    for team in (("Ann",), ("Ann", "Bob")):
        for order in orders:
            for depart in range(420, 760, 5):
                plan = priced(problem, team, order, depart)
                if plan is not None:
                    yield check(problem, plan).run()[1]["total"]


def test_no_plan_of_a_tiny_week_is_cheaper():
    # The witness tries every team, order and (each five minutes) departure of one van-day.
    problem = three_jobs()
    plan = planned(problem, steps=60)
    assert faults(problem, plan) == []
    assert plan["cost"]["total"] <= min(every_total(problem))


@pytest.mark.parametrize("missing", ["vans", "people"])
def test_without_vans_or_people_everything_is_left_out_with_a_true_code(missing):
    problem = three_jobs() | {missing: []}
    plan = planned(problem, steps=2)
    assert plan["van_days"] == []
    assert {u["code"] for u in plan["unplaced"]} == {
        "no-van" if missing == "vans" else "no-team"
    }
    assert faults(problem, plan) == []


CODES = {
    "no-window": {"windows": [[500, 520]]},
    "no-team": {"needs": [{"skill": "spray", "level": 1, "count": 1}]},
    "no-van": {"gear": ["turbine"]},
    "no-trailer": {"trailers": [{"kind": "tent", "stays_min": 0}]},
    "no-supplies": {"supplies": {"water_l": 5}},
    "out-of-reach": {"windows": [[420, 485]]},
}


@pytest.mark.parametrize("code", CODES)
def test_a_stage_left_out_says_why_in_numbers(code):
    problem = with_stage(tiny(), "A", "dock", {"1": 60}, **CODES[code])
    plan = planned(problem, steps=2)
    assert [u["code"] for u in plan["unplaced"]] == [code]
    assert faults(problem, plan) == []


def test_an_extra_that_does_not_pay_is_not_worth_it():
    problem = with_stage(tiny(), "A", "dock", {"1": 300}, extra=True)
    [left] = planned(problem, steps=2)["unplaced"]
    assert left["code"] == "not-worth"
    assert "5.00" in left["why"]


def test_a_pin_is_kept():
    problem = with_stage(
        three_jobs(), "D", "dock", {"1": 30}, pinned={"van": "V", "start": 801}
    )
    plan = planned(problem, steps=10)
    assert faults(problem, plan) == []
    stops = [s for vd in plan["van_days"] for s in vd["stops"]]
    assert next(s["start"] for s in stops if s["stage"] == "D.all") == 801


def test_two_pins_that_clash_are_refused_in_a_sentence():
    problem = with_stage(
        tiny(), "A", "dock", {"1": 60}, pinned={"van": "V", "start": 600}
    )
    problem = with_stage(
        problem, "B", "quay", {"1": 60}, pinned={"van": "V", "start": 610}
    )
    with pytest.raises(InvalidProblem, match="pinned"):
        planned(problem, steps=2)


@pytest.mark.parametrize("seed", [1, 2, 3, 10, 12, 14])
def test_a_week_planned_again_keeps_what_is_done(seed):
    problem = made("small+", 3)
    plan = planned(problem, steps=3)
    again = replanned(problem, plan, seed)
    new = planned(copy.deepcopy(again), steps=4)
    assert faults(again, new) == []
