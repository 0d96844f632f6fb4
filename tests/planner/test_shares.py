"""A large week divided among walks: each changes its own part only, and what they join breaks no rule."""

from dataclasses import replace

import numpy as np
import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.core.calls import total_cents
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from dispatch.planner.solve import shares
from dispatch.planner.solve.shares import Shares, is_large
from dispatch.planner.solve.start import Start
from dispatch.planner.solve.walker import Walker
from tests.bench.standing import replanned
from tests.planner.weeks import faults, made, planned

pytestmark = pytest.mark.timeout(120)
HEAT = 3000.0


@pytest.fixture
def small_parts(monkeypatch):
    """Weeks of 72 van-days are large, and a part is a quarter of one."""
    monkeypatch.setattr(shares, "_PART", 18)


def begun(problem, walks):
    """Return a first build, and walks that share its week."""
    build = Build(problem, Effort(seconds=600, steps=0, seed=2), lambda _: None)
    build.run(Start())
    search = build.search
    return build, [Walker(search.given, search.best, 7 + k) for k in range(walks)]


def broken(build, week):
    """The judge's faults on what was visited; what is left out is told elsewhere."""
    plan = to_plan(build.problem, week)
    left_out = build._left_out(plan)
    return judge(build.problem, build._priced(replace(plan, unplaced=left_out)))


WEEKS = {
    "plain": lambda: made("large", 2),
    "rich": lambda: made("large+", 1),
    "under way": lambda: replanned(
        made("large", 1), planned(made("large", 1), steps=20), 12
    ),
}


@pytest.mark.parametrize("name", WEEKS)
def test_what_walks_join_breaks_no_rule_and_costs_what_it_says(small_parts, name):
    build, walkers = begun(read_problem(WEEKS[name]()), 3)
    shared = Shares(build.search.given, walkers, 5)
    changed = 0
    for _ in range(12):
        before = walkers[0].now.copy()
        shared.deal()
        for walker in walkers:
            walker.steps(6, HEAT)
        shared.join()
        for walker in walkers:
            assert walker.given is build.search.given
            assert walker.now_cents == pytest.approx(walkers[0].now_cents)
        now = walkers[0].now
        assert broken(build, now) == []
        assert broken(build, walkers[0].best) == []
        assert total_cents(build.search.given, now) == pytest.approx(
            walkers[0].now_cents
        )
        changed += int((before["seen"]["start"] != now["seen"]["start"]).sum())
    assert changed > 20


def test_a_walk_changes_nothing_outside_its_part(small_parts):
    build, walkers = begun(read_problem(made("large", 3)), 2)
    shared = Shares(build.search.given, walkers, 5)
    shared.deal()
    parts = [set(share.routes.tolist()) for share in shared._shares]
    assert parts[0]
    assert parts[1]
    assert not parts[0] & parts[1]
    before = walkers[0].now.copy()
    for walker in walkers:
        walker.steps(40, HEAT)
    routes = int(before["n_routes"])
    for part, walker in zip(parts, walkers, strict=True):
        differ = (
            before["routes"][:routes]["stop"] != walker.now["routes"][:routes]["stop"]
        )
        moved = set(np.flatnonzero(differ.any(axis=1)).tolist())
        assert moved
        assert moved <= part


def test_a_large_week_is_planned_in_parts_the_same_each_time(small_parts):
    week = made("large", 2)
    plans = [planned(week, steps=150) for _ in range(2)]
    # For how many stages left out there is time to find the reasons depends on the machine.
    for part in ("van_days", "chosen", "cost"):
        assert plans[0][part] == plans[1][part]
    assert faults(week, plans[0]) == []


def test_only_a_week_of_hundreds_of_van_days_is_divided():
    def given(days, vans, stages=1):
        return {"n_days": days, "n_vans": vans, "n_stages": stages}

    assert is_large(given(6, 72))
    assert not is_large(given(6, 12))
    assert not is_large(given(6, 72, stages=0))
