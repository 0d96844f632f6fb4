"""The compiled search against the plain Python it is compiled from, and where its machine code is kept."""

import subprocess
import sys

import numpy as np
import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.core import calls, change, jit, price
from dispatch.planner.core.room import ROOM
from dispatch.planner.core.shapes import GIVEN, WEEK
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from tests.planner.weeks import made

KINDS = {"given": GIVEN, "week": WEEK, "room": ROOM}


def plain(kind, record):
    """Return a record that plain Python reads as the compiled code does: its fields by a dot."""
    rows = np.array([record], KINDS[kind])
    return rows.view(np.dtype((np.record, rows.dtype)))[0]


@pytest.fixture(scope="module")
def search():
    build = Build(
        read_problem(made("small+", 3)), Effort(seconds=60, steps=20), lambda _: None
    )
    build.run(Start())
    return build.search


def test_a_week_costs_the_same_compiled_and_not(search):
    given, week = plain("given", search.given), plain("week", search.best)
    total = price.total_cents(given, week)
    assert calls.total_cents(search.given, search.best) == pytest.approx(total)


def test_van_days_get_the_same_new_versions_compiled_and_not(search):
    week, other = search.best.copy(), plain("week", search.best)
    calls.renew(week)
    with np.errstate(over="ignore"):  # the dice roll over
        change.renew(other)
    assert week["version"].tolist() != search.best["version"].tolist()
    assert week["version"].tolist() == other["version"].tolist()
    assert week["dice"] == other["dice"]


def test_planning_never_loads_the_compiler():
    asked = (
        "import sys, dispatch.planner.__main__ as m; sys.exit('numba' in sys.modules)"
    )
    assert jit.is_compiled()
    subprocess.run([sys.executable, "-c", asked], check=True)
