"""A bad week problem is refused with one sentence that says what is wrong."""

import copy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.planner.problem import InvalidProblem
from dispatch.planner.read import read_problem
from tests.planner.weeks import made, saved, tiny, with_stage


def one(**changes):
    return with_stage(tiny(), "A", "quay", {"1": 60}, **changes)


HELD = {"van": "V", "day": 0, "team": ["Ann"], "depart": 480, "back": 700}
HELD |= {"break": None, "stops": [{"do": "visit", "stage": "A.all"}]}
HELD["stops"][0] |= {"start": 500, "end": 560}


def told(van_day):
    costs = ("day_cents", "shift_cents", "shift_cents_per_hour", "tolerance_min")
    week = one()
    week["standing"] = {"visits": [], "van_days": [van_day]} | dict.fromkeys(costs, 1)
    return week


AFTER = {"min_lag": 0, "max_lag": None, "same_van_day": False}
BAD = {
    "an unknown place": (one(place="moon"), "Stage A.all names the place 'moon'"),
    "an unknown person barred": (one(barred=["Zoe"]), "the person 'Zoe'"),
    "an unknown stage before": (one(after=[{"stage": "X", **AFTER}]), "the stage 'X'"),
    "a circle": (one(after=[{"stage": "A.all", **AFTER}]), "in a circle: A.all"),
    "a negative hold": (one(hold_min=-5), "hold_min is -5"),
    "a hole in a table": (
        one(hold_min=[[0, 700, 5], [800, 1440, 9]]),
        "rows do not meet",
    ),
    "a window backwards": (one(windows=[[900, 800]]), "must run forward"),
    "a negative window": (one(windows=[[-10, 800]]), "from minute 0"),
    "no team sizes": (one(minutes={}), "at least one team size"),
    "a fraction of a minute": (one(minutes={"1": 60.5}), "must be a whole number"),
    "a pin to an unknown van": (one(pinned={"van": "Q", "start": 500}), "the van 'Q'"),
    "a pin outside its windows": (
        one(pinned={"van": "V", "start": 1000}),
        "lift the pin",
    ),
    "a matrix too small": (tiny(drive_min=[[0]]), "3 rows of 3 numbers"),
    "a matrix with a text": (tiny(drive_m=[["a", 0, 0]] * 3), "must be a whole number"),
    "no days": (tiny(days=[]), "no days"),
    "the wrong format": (tiny(format="week-problem/1"), "week-problem/1"),
    "not an object": ([], "one JSON object"),
    "a driver in words": (
        tiny(people=[tiny()["people"][0] | {"driver": "no"}]),
        "'driver' is 'no'; it must be true or false",
    ),
    "gear in one word": (one(gear="crane"), "must be a list of names"),
    "gear that is a number": (one(gear=[7]), "'gear' is 7; it must be a name"),
    "more cents than there are": (one(drop_cents=10**12), "must not be above"),
    "a frozen day twice": (one() | {"frozen": [HELD, HELD]}, "is listed twice"),
    "a frozen day of no van": (
        one() | {"frozen": [HELD | {"van": "Q"}]},
        "the van 'Q'",
    ),
    "a frozen day of next week": (
        one() | {"frozen": [HELD | {"day": 9}]},
        "no day of this",
    ),
    "a frozen departure in words": (
        one() | {"frozen": [HELD | {"depart": "early"}]},
        "In a frozen van-day, 'depart' is 'early'",
    ),
    "a frozen stop without a start": (
        one() | {"frozen": [HELD | {"stops": [{"do": "visit", "stage": "A.all"}]}]},
        "lacks 'start'",
    ),
    "a told day of nobody": (told(HELD | {"team": ["Zoe"]}), "the person 'Zoe'"),
    "a told day that is a word": (told("Monday"), "wrong shape"),
    "unknown people apart": (tiny(apart=[["Ann", "Zoe"]]), "'Zoe'"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_gives_one_clear_sentence(name):
    problem, words = BAD[name]
    with pytest.raises(InvalidProblem) as refusal:
        read_problem(problem)
    assert words in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_a_missing_part_is_named():
    problem = tiny()
    del problem["vans"]
    with pytest.raises(InvalidProblem, match="lacks 'vans'"):
        read_problem(problem)


@pytest.mark.parametrize("size", ["small", "small+", "medium+"])
def test_what_the_outside_maker_makes_is_read(size):
    problem = made(size, 1)
    assert list(read_problem(problem).stages) == [s["id"] for s in problem["stages"]]


def test_what_is_frozen_or_told_in_its_right_shape_is_read():
    assert read_problem(one() | {"frozen": [HELD]}).frozen
    assert read_problem(told(HELD)).standing.van_days
    under_way = {key: value for key, value in HELD.items() if key != "back"}
    assert read_problem(one() | {"frozen": [under_way | {"open": True}]}).frozen


def paths(value, so_far=()):
    """Yield the way to every value inside."""
    if so_far:
        yield so_far
    rows = value.items() if isinstance(value, dict) else ()
    for key, inner in enumerate(value) if isinstance(value, list) else rows:
        yield from paths(inner, (*so_far, key))


RICH = saved("rich_noon")[0] | {"drive_min": [], "drive_m": []}
ODD = [None, True, -1, 1.5, 10**12, "x", [], {}, [[1, 2]], ["x"]]


@given(way=st.sampled_from(sorted(paths(RICH), key=str)), odd=st.sampled_from(ODD))
@settings(max_examples=150, deadline=None)
def test_whatever_is_odd_in_a_problem_is_read_or_refused_in_a_sentence(way, odd):
    problem = copy.deepcopy(saved("rich_noon")[0])
    within = problem
    for key in way[:-1]:
        within = within[key]
    within[way[-1]] = odd
    said = "."
    try:
        read_problem(problem)
    except InvalidProblem as refusal:
        said = str(refusal)
    assert said.endswith(".")
    assert "\n" not in said
