"""A job done another way: a plan without a fault, priced to the cent, all other boats where they were; or the reason why not."""

import json

from dispatch.planner.another_way import another_way
from dispatch.planner.cost import cost
from dispatch.planner.plan import read_plan, write_plan
from dispatch.planner.read import read_problem
from tests.planner.weeks import faults, made, planned


def test_every_other_way_is_a_plan_the_outside_judge_finds_nothing_in():
    """The judge and the maker share no code with the house (`tests/bench/outside`)."""
    whole = 0
    for size, seed in (("10x3x6+", 2), ("12x3x6+", 5), ("12x3x6+", 2)):
        week = made(size, seed)
        problem = read_problem(week)
        plan = read_plan(planned(week, steps=400))
        jobs = problem.jobs.values()
        for job, way in [(one, way) for one in jobs for way in one.variants]:
            done = another_way(problem, plan, job.id, way)
            if done.plan is None:
                assert done.why_not[0].endswith(".")
                continue
            raw = json.loads(json.dumps(write_plan(done.plan)))
            assert faults(week, raw) == []
            assert done.cents == raw["cost"]["total"] - cost(problem, plan)["total"]
            assert done.plan.chosen[job.id] == way
            for name, (there, _) in done.plan.visits().items():
                if problem.stages[name].job != job.id:
                    here = plan.visits()[name][0]
                    assert (there.van, there.day) == (here.van, here.day)
            whole += not done.lost
    assert whole


def test_a_way_that_is_begun_or_chosen_or_none_is_refused_in_a_sentence():
    week = made("12x3x6+", 5)
    problem, plan = read_problem(week), read_plan(planned(week, steps=400))
    job = next(job for job in problem.jobs.values() if job.variants)
    here = plan.chosen[job.id]
    there = next(way for way in job.variants if way != here)
    assert "already" in another_way(problem, plan, job.id, here).why_not[0]
    assert "none of its ways" in another_way(problem, plan, job.id, "sunk").why_not[0]
    name = next(
        name
        for name in plan.visits()
        if problem.stages[name].job == job.id and problem.stages[name].variant == here
    )
    row = plan.visits()[name][0]
    left = next(
        one
        for one in write_plan(plan)["van_days"]
        if (one["van"], one["day"]) == (row.van, row.day)
    )
    begun = read_problem(week | {"now": left["back"], "frozen": [left]})
    assert "under way" in another_way(begun, plan, job.id, there).why_not[0]
