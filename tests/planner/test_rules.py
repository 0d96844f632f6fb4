"""The house's judge and the outside judge agree, on good plans and on spoilt ones."""

import copy

import pytest

from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from tests.planner.weeks import faults, saved


def verdicts(problem, plan):
    return judge(read_problem(problem), read_plan(plan)), faults(problem, plan)


def visits(plan):
    stops = (s for vd in plan["van_days"] for s in vd["stops"])
    return [s for s in stops if s["do"] == "visit"]


def long_day(plan):
    return next(vd for vd in plan["van_days"] if vd["break"])


def _late_stop(_, plan):
    visits(plan)[0]["start"] += 3


def _too_long(_, plan):
    visits(plan)[1]["end"] += 5


def _no_break(_, plan):
    long_day(plan)["break"] = None


def _short_break(_, plan):
    long_day(plan)["break"][1] -= 10


def _early_break(_, plan):
    long_day(plan)["break"] = [300, 330]


def _leaves_duty(_, plan):
    plan["van_days"][0]["depart"] -= 300


def _overnight(_, plan):
    plan["van_days"][0]["back"] += 900


def _visited_twice(_, plan):
    vd = plan["van_days"][0]
    vd["stops"].append(copy.deepcopy(vd["stops"][-1]))


def _forgotten(_, plan):
    plan["van_days"].pop()


def _in_two_vans(_, plan):
    twin = copy.deepcopy(plan["van_days"][0])
    plan["van_days"].append(twin)


def _twice_in_team(_, plan):
    vd = plan["van_days"][0]
    vd["team"].append(vd["team"][0])


def _wrong_cost(_, plan):
    plan["cost"]["wages"] += 1


def _high_bound(_, plan):
    plan["bound"] = plan["cost"]["total"] + 1


def _unknown_code(_, plan):
    stage = visits(plan)[0]["stage"]
    plan["unplaced"].append({"stage": stage, "code": "tired", "why": "So."})


def _barred(problem, plan):
    vd = plan["van_days"][0]
    name = next(s["stage"] for s in vd["stops"] if s["do"] == "visit")
    stage = next(s for s in problem["stages"] if s["id"] == name)
    stage["barred"] = [vd["team"][0]]


def _unskilled(problem, plan):
    name = visits(plan)[0]["stage"]
    stage = next(s for s in problem["stages"] if s["id"] == name)
    stage["needs"].append({"skill": "juggling", "level": 1, "count": 1})


def _no_gear(problem, plan):
    name = visits(plan)[0]["stage"]
    stage = next(s for s in problem["stages"] if s["id"] == name)
    stage["gear"] = ["crane"]


def _thirsty(problem, plan):
    name = visits(plan)[0]["stage"]
    stage = next(s for s in problem["stages"] if s["id"] == name)
    stage["supplies"] = {"water_l": 10**6}


def _no_window(problem, plan):
    name = visits(plan)[0]["stage"]
    next(s for s in problem["stages"] if s["id"] == name)["windows"] = []


def _long_lag(problem, plan):
    seen = {v["stage"] for v in visits(plan)}
    stage = next(s for s in problem["stages"] if s["after"] and s["id"] in seen)
    stage["after"][0] |= {"min_lag": 10**5, "max_lag": None}


def _short_max_lag(problem, plan):
    seen = {v["stage"] for v in visits(plan)}
    stage = next(s for s in problem["stages"] if s["after"] and s["id"] in seen)
    stage["after"][0] |= {"min_lag": 0, "max_lag": [[0, 1, 0]]}


def _holds(problem, plan):
    for stage in problem["stages"]:
        stage["hold_min"] = 10**5


def _no_trailer(problem, plan):
    name = visits(plan)[0]["stage"]
    stage = next(s for s in problem["stages"] if s["id"] == name)
    stage["trailers"] = [{"kind": "lift", "stays_min": 0}]


def _pinned_elsewhere(problem, plan):
    visit = visits(plan)[0]
    stage = next(s for s in problem["stages"] if s["id"] == visit["stage"])
    stage["pinned"] = {"van": problem["vans"][0]["id"], "start": visit["start"] + 1}
    stage["windows"].append([visit["start"], visit["end"] + 600])


def _before_now(problem, plan):
    problem["now"] = 5 * 1440


def _frozen_otherwise(problem, plan):
    held = copy.deepcopy(plan["van_days"][0])
    held["back"] += 1
    problem["frozen"] = [held]


def _no_driver(problem, plan):
    for person in problem["people"]:
        person["driver"] = False


def _apart(problem, plan):
    pair = next(vd["team"] for vd in plan["van_days"] if len(vd["team"]) > 1)
    problem["apart"].append(pair[:2])


SPOILT = [
    value
    for name, value in dict(globals()).items()
    if name.startswith("_") and getattr(value, "__module__", "") == __name__
]


@pytest.mark.parametrize("name", ["six_jobs", "ten_jobs"])
def test_neither_judge_finds_fault_with_a_saved_plan(name):
    assert verdicts(*saved(name)) == ([], [])


@pytest.mark.parametrize("spoil", SPOILT, ids=lambda f: f.__name__.strip("_"))
def test_both_judges_see_what_is_spoilt(spoil):
    problem, plan = saved("ten_jobs")
    spoil(problem, plan)
    ours, theirs = verdicts(problem, plan)
    assert ours
    assert theirs
