"""What holds for every week: none beats the cheapest, more time never costs more, a rule less never does."""

import copy

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import read_plan, write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from tests.bench.standing import replanned
from tests.planner.brute import cheapest
from tests.planner.dozen_weeks import dozens
from tests.planner.weeks import faults, made, planned

pytestmark = pytest.mark.timeout(120)
few = settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
fewer = settings(few, max_examples=5)


@given(dozens())
@few
def test_a_plan_is_valid_and_none_is_cheaper_than_the_cheapest(week):
    best = cheapest(week)
    plan = planned(week, steps=60)
    assert faults(week, plan) == []
    assert faults(week, best) == []
    assert plan["cost"]["total"] >= best["cost"]["total"]


def eased(week, rule):
    """Return the week without one of its rules."""
    week = copy.deepcopy(week)
    EASINGS[rule](week)
    return week


def each(rows, **changes):
    for row in rows:
        row.update(copy.deepcopy(changes))


EASINGS = {
    "breaks": lambda w: w.update({"break": None}),
    "apart": lambda w: w.update(apart=[]),
    "trainees": lambda w: each(w["people"], not_alone=False),
    "licences": lambda w: each(w["people"], driver=True),
    "hours": lambda w: each(w["people"] + w["vans"], duty=[[0, 14]]),
    "seats": lambda w: each(w["vans"], seats=2),
    "hitches": lambda w: each(w["vans"], tows=True),
    "gear": lambda w: each(w["stages"], gear=[]),
    "supplies": lambda w: each(w["stages"], supplies={}),
    "skills": lambda w: each(w["stages"], needs=[]),
    "bars": lambda w: each(w["stages"], barred=[]),
    "windows": lambda w: each(w["stages"], windows=[[0, 14]]),
    "pauses": lambda w: each(w["stages"], pausable=True),
    "trailers": lambda w: each(w["stages"], trailers=[]),
    "waits": lambda w: each(w["stages"], after=[]),
    "boats": lambda w: [job.update(boat=job["id"]) for job in w["jobs"]],
}


@given(dozens(), st.sampled_from(sorted(EASINGS)))
@few
def test_a_rule_less_never_costs_more_at_the_cheapest(week, rule):
    free = eased(week, rule)
    # A rule that binds nothing here is not worth trying every plan twice for.
    assume(free != week)
    assert cheapest(free)["cost"]["total"] <= cheapest(week)["cost"]["total"]


def longer(problem, plan, **effort):
    """Return the plan of a search that starts from another."""
    known = read_plan(plan)
    start = Start(van_days=known.van_days, chosen=known.chosen)
    build = Build(read_problem(problem), Effort(**effort), lambda _: None)
    return write_plan(build.run(start))


@given(
    size=st.sampled_from(["4x2x4", "6x2x5+", "small", "small+"]),
    week=st.integers(1, 50),
    seed=st.integers(0, 9),
)
@fewer
def test_more_time_never_costs_more_and_breaks_nothing(size, week, seed):
    problem = made(size, week)
    plan, totals = planned(problem, steps=20, seed=seed), []
    for steps in (0, 30, 200):
        assert faults(problem, plan) == []
        totals.append(plan["cost"]["total"])
        plan = longer(problem, plan, seconds=600, seed=seed, steps=steps)
    totals.append(plan["cost"]["total"])
    assert totals == sorted(totals, reverse=True)


@given(week=st.integers(1, 50), trouble=st.integers(1, 20))
@fewer
def test_nothing_new_begins_before_now_when_a_week_is_planned_again(week, trouble):
    problem = made("small+", week)
    again = replanned(problem, planned(problem, steps=40), trouble)
    plan = planned(again, steps=60)
    assert faults(again, plan) == []
    held = {(row["van"], row["day"]): row["break"] for row in again["frozen"]}
    for vd in plan["van_days"]:
        taken = held.get((vd["van"], vd["day"]))
        assert vd["break"] in (None, taken) or vd["break"][0] >= again["now"]
