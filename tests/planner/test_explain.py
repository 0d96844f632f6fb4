"""Why stages are left out, against every plan of tiny weeks, and one week made by hand for each code."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.planner.brute import cheapest
from tests.planner.weeks import faults, planned, tiny, with_stage

IMPOSSIBLE = {
    "no-window",
    "no-team",
    "no-van",
    "no-trailer",
    "no-supplies",
    "out-of-reach",
}
EVEN_ALONE = "even with nothing else planned"
SPRAY = {"skill": "spray", "level": 1, "count": 1}
TENT = {"id": "T", "kind": "tent", "place": "yard", "towed": True}
TENT |= {"hook_min": 1, "unhook_min": 1, "factor_pct": 100}


def dozen(**changes):
    """Return a week of one day of fourteen minutes: two people, a van, drives of a minute or two."""
    week = tiny(days=[[0, 24]], drive_min=[[0, 1, 2], [1, 0, 1], [2, 1, 0]])
    for row in week["people"] + week["vans"]:
        row["duty"] = [[0, 14]]
    week["break"] = {"minutes": 2, "after_min": 10, "windows": [[4, 9]]}
    return week | changes


def job(week, name, where, sizes, **changes):
    week = with_stage(week, name, where, sizes, **({"windows": [[0, 14]]} | changes))
    week["jobs"][-1]["finish_cents_per_hour"] = 0
    return week


def could_be_done(week, name):
    """Whether some plan visits the stage: the cheapest does where leaving it out is all that costs."""
    free = {"cents_per_hour": 0, "cents_per_day": 0, "cents_per_km": 0}
    priced = week | {
        "people": [p | {"cents_per_hour": 0} for p in week["people"]],
        "vans": [v | {k: 0 for k in free if k in v} for v in week["vans"]],
        "jobs": [j | {"unfinished_cents": 0} for j in week["jobs"]],
        "stages": [
            s | {"drop_cents": 10**6 * (s["id"] == name)} for s in week["stages"]
        ],
    }
    return cheapest(priced)["cost"]["dropped"] == 0


spans = st.tuples(st.integers(0, 8), st.integers(4, 14)).map(
    lambda span: [span[0], span[0] + span[1]]
)
whole = st.just([0, 14])
mostly = st.sampled_from([True, True, True, False])
seldom = mostly.map(lambda often: not often)


@st.composite
def weeks(draw):
    """Draw a week of two jobs: hours, skills, who is barred or kept apart, supplies, a tent."""
    week = dozen()
    for person in week["people"]:
        person["duty"] = [draw(whole | spans | st.none())]
        person["driver"], person["not_alone"] = draw(mostly), draw(seldom)
        person["skills"] = {"spray": draw(st.integers(0, 2))}
    if draw(seldom):
        week["apart"] = [["Ann", "Bob"]]
    week["vans"][0] |= {"seats": draw(st.integers(1, 2)), "carries": {"water_l": 5}}
    week["vans"][0]["tows"] = draw(mostly)
    week["trailers"] = [TENT] if draw(mostly) else []
    for name in "AB":
        sizes = draw(
            st.sampled_from([{"1": 3}, {"1": 6, "2": 3}, {"2": 4}, {"1": 11, "2": 8}])
        )
        more = {
            "windows": [draw(whole | spans), *draw(st.lists(spans, max_size=1))],
            "needs": [SPRAY | {"level": draw(st.integers(1, 2))}] * draw(seldom),
            "barred": draw(st.sampled_from([[], [], ["Ann"]])),
            "supplies": {"water_l": draw(st.sampled_from([0, 2, 3, 6]))},
            "extra": draw(seldom),
            "pausable": draw(st.booleans()),
        }
        if name == "A" and draw(seldom):
            more["trailers"] = [{"kind": "tent", "stays_min": 0}]
        week = job(week, name, draw(st.sampled_from(["quay", "dock"])), sizes, **more)
    if draw(st.booleans()):
        week["stages"][1]["job"] = "A"
        week["stages"][1]["after"] = [
            {"stage": "A.all", "min_lag": 2, "max_lag": None, "same_van_day": False}
        ]
        week["jobs"].pop()
    return week


@settings(max_examples=12, deadline=None)
@given(weeks())
@pytest.mark.timeout(300)
def test_reasons_agree_with_every_plan_there_is(week):
    plan = planned(week, steps=5)
    assert faults(week, plan) == []
    for left in plan["unplaced"]:
        if left["code"] in IMPOSSIBLE:
            assert not could_be_done(week, left["stage"]), left
        elif "cannot start before" in left["why"]:
            assert not could_be_done(week, "B.all"), left
        elif left["code"] in ("no-room", "not-worth") and EVEN_ALONE not in left["why"]:
            assert could_be_done(week, left["stage"]), left


def in_two_ways(**roofed):
    """A job that lies open or under a roof, each way with a visit of its own; the roofed one comes first."""
    week = job(dozen(), "roofed", "quay", {"1": 4}, **roofed)
    week = job(week, "open", "quay", {"1": 4})
    week["stages"][0] |= {"variant": "roofed"}
    week["stages"][1] |= {"variant": "open", "job": "roofed"}
    week["jobs"] = [week["jobs"][0] | {"variants": ["roofed", "open"]}]
    return week


ROOF = [{"kind": "tent", "stays_min": 0}]


def test_a_job_left_out_is_explained_in_a_way_that_could_be():
    week = in_two_ways(trailers=ROOF)
    week["jobs"][0]["unfinished_cents"] = 1
    plan = planned(week, steps=20)
    assert faults(week, plan) == []
    assert plan["chosen"] == {"roofed": "open"}
    assert [(u["stage"], u["code"]) for u in plan["unplaced"]] == [
        ("open.all", "not-worth")
    ]


def test_a_job_that_no_way_fits_says_so():
    week = in_two_ways(trailers=ROOF)
    week["stages"][1]["windows"] = [[0, 3]]
    plan = planned(week, steps=20)
    assert faults(week, plan) == []
    (left,) = plan["unplaced"]
    assert left["why"].endswith("; no other way of doing it fits either.")


def test_a_dearer_way_that_could_be_is_not_taken_for_the_telling():
    week = in_two_ways(trailers=ROOF)
    more = dict(week["stages"][1], id="open.more", extra=True, drop_cents=900)
    week["stages"].append(more)
    week["jobs"][0]["unfinished_cents"] = 1
    plan = planned(week, steps=20)
    assert faults(week, plan) == []
    assert plan["chosen"] == {"roofed": "roofed"}
    (left,) = plan["unplaced"]
    assert left["code"] == "no-trailer"
    assert "no other way" not in left["why"]
