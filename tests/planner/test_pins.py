"""To be moved to tests/planner once it holds: whatever a valid plan does can be pinned.

About one in six of these is refused today ("What is frozen or pinned cannot be kept together").
Run: copy to tests/planner/test_pins.py; .venv/bin/pytest -q tests/planner/test_pins.py
"""

import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.bench.standing import replanned
from tests.planner.weeks import faults, made, planned

pytestmark = pytest.mark.timeout(300)


@given(
    size=st.sampled_from(["4x2x4+", "6x2x5+", "small+"]),
    week=st.integers(1, 9999),
    trouble=st.integers(1, 28),
    seed=st.integers(0, 9),
)
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
def test_what_a_valid_plan_does_can_be_pinned(size, week, trouble, seed):
    again = made(size, week)
    again = replanned(again, planned(again, steps=40), trouble)
    plan, dice = planned(again, steps=40), random.Random(seed)
    held = {(row["van"], row["day"]) for row in again["frozen"]}
    stages = {stage["id"]: stage for stage in again["stages"]}
    for vd in plan["van_days"]:
        for stop in vd["stops"] if (vd["van"], vd["day"]) not in held else ():
            if stop["do"] == "visit" and dice.random() < 0.25:
                pin = {"van": vd["van"], "start": stop["start"]}
                stages[stop["stage"]]["pinned"] = pin
    again["standing"] = None
    assert faults(again, planned(again, steps=20)) == []
