"""Recombination picks the cheapest week out of van-days that were seen, and never a broken one."""

from dataclasses import replace

import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.cost import cost
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from dispatch.planner.solve import search
from dispatch.planner.solve.pool import Pool
from dispatch.planner.solve.recombine import Terms, recombine
from dispatch.planner.solve.search import Start
from tests.bench.outside.make_week import make
from tests.planner.weeks import made, planned


def week(seed, *, rich=False):
    return read_problem(make(6, 2, 4, seed, rich=rich))


def searched(problem, steps=12):
    build = Build(problem, Effort(seconds=40, seed=3, steps=steps), lambda _: None)
    return build, build.run(Start())


def terms(problem, work=3.0):
    return Terms(
        work=work,
        seconds=60.0,
        seed=1,
        accept=lambda plan: not broken(problem, plan),
        stop=lambda: False,
    )


def broken(problem, plan):
    """The judge's faults on what was visited; what is left out is told elsewhere."""
    told = Build(problem, Effort(seconds=0), lambda _: None)
    return judge(problem, told._priced(replace(plan, unplaced=told._left_out(plan))))


@pytest.mark.parametrize(("seed", "rich"), [("1", False), ("2", False), ("3", True)])
def test_a_recombined_week_is_sound_and_no_dearer(seed, rich):
    problem = week(seed, rich=rich)
    build, plan = searched(problem)
    columns = build.search.pool.columns(plan.van_days)
    found = recombine(problem, columns, plan, terms(problem))
    if found is not None:
        assert not broken(problem, found)
        assert cost(problem, found)["total"] < plan.cost["total"]


def test_a_day_lost_from_a_week_is_found_again_in_the_pool():
    problem = week("1")
    _, plan = searched(problem)
    pool = Pool(500)
    pool.add(plan, plan.cost["total"])
    poorer = replace(plan, van_days=())
    found = recombine(problem, pool.columns(()), poorer, terms(problem))
    assert found is not None
    assert cost(problem, found)["total"] <= plan.cost["total"]


def test_the_same_pool_and_seed_give_the_same_week():
    problem = week("2")
    _, plan = searched(problem)
    pool = Pool(500)
    pool.add(plan, 0)
    empty = replace(plan, van_days=())
    first, second = (
        recombine(problem, pool.columns(()), empty, terms(problem)) for _ in range(2)
    )
    assert first == second


def test_a_pool_keeps_the_van_days_of_cheap_weeks():
    problem = week("1")
    _, plan = searched(problem)
    pool = Pool(1)
    for cents, van_day in enumerate(plan.van_days):
        pool.add(replace(plan, van_days=(van_day,)), cents)
    assert pool.columns(()) == [plan.van_days[0]]


def test_how_busy_the_machine_is_changes_nothing_where_steps_count(monkeypatch):
    week = made("small", 2)
    found = planned(week, steps=3000, seed=2)
    alone = search.recombine
    mixed = []
    monkeypatch.setattr(
        search, "recombine", lambda *told: mixed.append(alone(*told)) or mixed[-1]
    )
    monkeypatch.setattr(search, "_WALL", 0.0)
    assert planned(week, steps=3000, seed=2) == found
    assert mixed[0] is not None
