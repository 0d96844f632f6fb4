"""What a valid plan does can be pinned: forty drawn weeks, the same each time, none of them refused."""

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
    dice=st.randoms(use_true_random=False),
)
@settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
def test_what_a_valid_plan_does_can_be_pinned(size, week, trouble, dice):
    again = made(size, week)
    again = replanned(again, planned(again, steps=40), trouble)
    plan = planned(again, steps=40)
    held = {(row["van"], row["day"]) for row in again["frozen"]}
    stages = {stage["id"]: stage for stage in again["stages"]}
    for vd in plan["van_days"]:
        for stop in vd["stops"] if (vd["van"], vd["day"]) not in held else ():
            if stop["do"] == "visit" and dice.random() < 0.25:
                pin = {"van": vd["van"], "start": stop["start"]}
                stages[stop["stage"]]["pinned"] = pin
    again["standing"] = None
    assert faults(again, planned(again, steps=100)) == []
