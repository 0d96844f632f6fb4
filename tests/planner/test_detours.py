"""Walks from a told week: out at other prices for a while, and back at the true ones."""

import numpy as np
import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.core.calls import total_cents
from dispatch.planner.read import read_problem
from dispatch.planner.solve.course import Anew, course
from dispatch.planner.solve.detours import Detours
from dispatch.planner.solve.start import Start
from dispatch.planner.solve.walker import Walker
from tests.bench.standing import replanned
from tests.planner.weeks import faults, made, planned

WEEK = made("medium", 1)


@pytest.fixture(scope="module")
def sick():
    """A week of twenty jobs that people were told of, and one of the crew fell ill."""
    return replanned(WEEK, planned(WEEK, steps=600), 1)


@pytest.fixture
def begun(sick):
    """A first build of it, its detours and their two walks."""
    build = Build(
        read_problem(sick), Effort(seconds=600, steps=0, seed=2), lambda _: None
    )
    build.run(Start())
    search = build.search
    walkers = [Walker(search.given, search.best, 7 + k) for k in range(2)]
    return search, Detours(search.given, walkers, 3), walkers


def worths(given):
    return given["jobs"]["unfinished"][: int(given["n_jobs"])]


def without(week, given, job):
    """The week as if a job had never been put in."""
    bare = week.copy()
    bare["seen"]["route"][: int(given["n_stages"])][
        given["stages"]["job"][: int(given["n_stages"])] == job
    ] = -1
    return bare


def test_a_walk_comes_back_to_the_true_prices(begun):
    search, detours, walkers = begun
    true = worths(search.given).copy()
    detours.turn(search.best, 0.1, 900)
    assert detours.out
    for walker in walkers:
        assert not np.array_equal(worths(walker.given), true)
        walker.steps(200, 3000.0)
    detours.turn(search.best, 0.2, 1400)
    assert not detours.out
    for walker in walkers:
        assert np.array_equal(worths(walker.given), true)
        assert walker.least == pytest.approx(total_cents(search.given, walker.best))
    assert np.array_equal(worths(search.given), true)


def test_what_was_told_of_and_left_out_is_dear_for_one_walk_and_chance_rules_the_other(
    begun,
):
    search, detours, walkers = begun
    told = search.given["stages"]["told"][: int(search.given["n_stages"])] >= 0
    job = int(search.given["stages"]["job"][np.flatnonzero(told)[0]])
    detours.turn(without(search.best, search.given, job), 0.1, 900)
    times = [worths(w.given) / worths(search.given) for w in walkers]
    assert times[0][job] == pytest.approx(20)
    others = np.delete(times[0], job)
    assert set(np.round(others, 6)) <= {1.0, 20.0}
    assert len(set(np.round(times[1], 6))) > 2


def test_each_walk_goes_its_own_way_when_nothing_is_left_out(begun):
    search, detours, walkers = begun
    for turn in range(4):
        detours.turn(search.best, turn / 10, 900 * turn)
    detours.turn(search.best, 0.5, 4000)
    one, other = (worths(walker.given) for walker in walkers)
    assert not np.array_equal(one, other)


def test_a_leg_ends_cold_the_next_begins_warm_and_the_effort_ends_cold_too(begun):
    search, detours, _ = begun
    steps = next(n for n in range(0, 9999, 10) if detours.over(0.3, n))
    assert not detours.over(0.2, steps)
    first, last = detours.heat(0.0, 0), detours.heat(0.3, steps)
    assert last < first / 100
    assert detours.heat(1.0, 10) == pytest.approx(last)
    detours.turn(search.best, 0.3, steps)
    assert not detours.over(0.3, steps)
    assert detours.heat(0.3, steps) > first


def test_weeks_that_nobody_was_told_of_begin_anew_instead(begun):
    search, _, walkers = begun
    kinds = {
        told: course(search.problem, walkers, search.best, 1, told=told)
        for told in (True, False)
    }
    assert isinstance(kinds[True], Detours)
    assert isinstance(kinds[False], Anew)


def test_the_same_seed_and_steps_give_the_same_plan_and_nobody_finds_a_fault(sick):
    plans = [planned(sick, steps=3000, seed=4) for _ in range(2)]
    assert plans[0] == plans[1]
    assert faults(sick, plans[0]) == []


def test_a_week_found_on_a_detour_is_handed_over_at_its_true_price(sick, monkeypatch):
    turns, turn = [], Detours.turn
    monkeypatch.setattr(
        Detours, "turn", lambda self, *at: turns.append(turn(self, *at) or self.out)
    )
    plan = planned(sick, steps=2500)
    assert turns == [True, False]
    assert faults(sick, plan) == []


def test_walks_without_time_for_a_detour_stay_where_they_are(sick, monkeypatch):
    monkeypatch.setattr(Detours, "turn", lambda *_: pytest.fail("went out"))
    planned(sick, steps=1500)
