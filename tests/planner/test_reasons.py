"""Why a stage is left out, in a sentence with its numbers, their units and what to change."""

import pytest

from dispatch.planner.explain import explain
from dispatch.planner.plan import Plan
from dispatch.planner.read import read_problem
from tests.planner.weeks import tiny, with_stage

SPRAY = {"skill": "spray", "level": 2, "count": 2}


def told(problem: dict, cents: float | None) -> str:
    """Return the sentence of the one stage that an empty plan leaves out."""
    empty = Plan(van_days=(), chosen={})
    (row,) = explain(read_problem(problem), empty, {"s.all": cents})
    return row.why


@pytest.mark.parametrize(
    ("extra", "cents", "sentence"),
    [
        (
            True,
            123456,
            "Doing it adds $1,234.56 more than the $5.00 that leaving it out costs.",
        ),
        (False, 6311, "Finishing its job would raise the week's cost by $63.11."),
    ],
)
def test_money_is_told_with_its_sign(extra, cents, sentence):
    problem = with_stage(tiny(), "s", "quay", {"1": 60}, extra=extra)
    assert told(problem, cents) == sentence


def test_no_room_is_told_with_minutes_and_what_would_mend_it():
    problem = with_stage(tiny(), "s", "quay", {"2": 60, "1": 100})
    assert told(problem, None) == (
        "No place was found for its 60 minutes beside what is planned; "
        "free a van-day or a person."
    )


def test_a_team_nobody_can_form_is_told_with_what_it_lacks():
    problem = with_stage(tiny(), "s", "quay", {"2": 60}, needs=[SPRAY])
    assert told(problem, None) == (
        "It needs 2 people with spray at level 2; the outfit has 0."
    )
    problem["stages"][0]["barred"] = ["Ann"]
    problem["people"][0]["skills"] = {"spray": 2}
    assert "the outfit has 0 not barred from it." in told(problem, None)


def test_people_who_are_never_out_together_make_no_team():
    problem = with_stage(tiny(), "s", "quay", {"2": 60})
    for person, duty in zip(problem["people"], ([420, 720], [700, 1020]), strict=True):
        person["duty"] = [duty]
    assert told(problem, None) == (
        "It has windows on 1 day, and on none can a team of 2 with a driver be formed "
        "for its 60 minutes; change the duty hours."
    )
    problem["people"][1]["duty"] = [[640, 1020]]
    assert "do not fit its windows" in told(problem, None)
    assert "day 1 comes nearest and is at least 20 minutes short" in told(problem, None)


def test_a_supply_is_told_with_its_unit():
    problem = with_stage(tiny(), "s", "quay", {"1": 60}, supplies={"water_l": 300})
    assert (
        told(problem, None)
        == "It needs 300 l of water; a fit van carries 0 l of water."
    )
