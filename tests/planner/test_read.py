"""A bad week problem is refused with one sentence that says what is wrong."""

import pytest

from dispatch.planner.problem import InvalidProblem
from dispatch.planner.read import read_problem
from tests.planner.weeks import made, tiny, with_stage


def one(**changes):
    return with_stage(tiny(), "A", "quay", {"1": 60}, **changes)


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
