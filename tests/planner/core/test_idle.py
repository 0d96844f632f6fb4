"""Waiting that is paid: what it costs, and what of it is not counted while jobs are still to come."""

from itertools import pairwise

import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.core import idle
from dispatch.planner.core.shapes import BACK, DEPART, REST
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from tests.planner.core.test_calls import plain
from tests.planner.weeks import tiny, with_stage


@pytest.fixture(scope="module")
def search():
    """Return a search for a day with one van, an early visit and a late one."""
    week = with_stage(tiny(), "early", "quay", {"1": 60}, windows=[[420, 500]])
    week = with_stage(week, "late", "dock", {"1": 45}, windows=[[700, 800]])
    build = Build(read_problem(week), Effort(seconds=60, steps=20), lambda _: None)
    build.run(Start())
    return build.search


def waited(problem, van_day):
    """Return a van-day's paid minutes that are neither work nor driving."""
    rest = van_day.rest or (0, 0)
    paid = van_day.back - van_day.depart - (rest[1] - rest[0])
    base = problem.vans[van_day.van].base
    stages = [problem.stages[stop.stage] for stop in van_day.stops]
    places = [base, *(stage.place for stage in stages), base]
    road = sum(problem.drive_min[a][b] for a, b in pairwise(places))
    work = sum(problem.minutes_for(stage, len(van_day.team)) for stage in stages)
    return paid - work - road


def test_waiting_costs_the_wages_of_what_is_neither_work_nor_driving(search):
    given, week = plain("given", search.given), plain("week", search.best)
    problem = search.problem
    (van_day,) = to_plan(problem, search.best).van_days
    minutes = waited(problem, van_day)
    assert minutes > 60
    cents = minutes * sum(problem.people[who].cents_per_hour for who in van_day.team)
    assert idle.idle_cents(given, week, 0) == pytest.approx(cents / 60)
    assert idle.all_idle_cents(given, week) == pytest.approx(cents / 60)


@pytest.mark.parametrize(("lock", "cents"), [(0, 25.0), (1, 0.0)])
def test_a_share_of_new_waiting_is_not_counted_where_the_team_is_free(
    search, lock, cents
):
    given, week = plain("given", search.given), plain("week", search.bare)
    room = plain("room", search.walkers[0].room)
    week.routes[0].lock = lock
    room.patience = 0.5
    room.out[DEPART], room.out[BACK], room.out[REST] = 0, 200, -1
    room.tried[0].minutes, room.tried[0].drive, room.tried[1].drive = 110, 20, 20
    assert idle.forgiven(given, week, room, 1, 0, 1.0) == cents
    room.patience = 0.0
    assert idle.forgiven(given, week, room, 1, 0, 1.0) == 0.0
