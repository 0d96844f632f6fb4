"""A trailer's move put in between two others, and taken out from between them."""

import json

import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import Tow, read_van_day, write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.start import Start
from tests.planner.dozens import needs_tent, tent
from tests.planner.weeks import DAY, faults, tiny, with_stage

PLACES = ("yard", "quay", "dock", "slip")
STANDS = {"quay": 0, "slip": 1, "dock": 2}  # the day each is to be done under the tent
TOWED = {
    ("quay", "dock"): ["yard>quay", "quay>dock"],
    ("quay", "slip", "dock"): ["yard>quay", "quay>slip", "slip>dock"],
}


def hours(day: int) -> list[int]:
    return [day * DAY + 420, day * DAY + 1020]


def week(*at: str) -> dict:
    """Return three days with a stage under the only tent at each of some places, each on a day of its own."""
    drives = [[0 if a == b else 20 for b in range(4)] for a in range(4)]
    problem = tent(
        tiny(
            days=[[d * DAY, (d + 1) * DAY] for d in range(3)],
            places=[{"id": p, "lat": 41.5, "lon": -71.4} for p in PLACES],
            drive_min=drives,
            drive_m=[[1000 * m for m in row] for row in drives],
            **{"break": None},
        )
    )
    for row in problem["people"]:
        row["duty"] = [hours(d) for d in range(3)]
    for row in problem["vans"]:
        row["duty"] = [[d * DAY, (d + 1) * DAY] for d in range(3)]
    for place in at:
        spans = {"windows": [hours(STANDS[place])]}
        problem = with_stage(problem, place, place, {"1": 120}, **spans, **needs_tent())
    return problem


def planned(problem: dict, steps: int, start: Start | None = None) -> dict:
    build = Build(
        read_problem(problem), Effort(seconds=60, steps=steps), lambda _: None
    )
    return json.loads(json.dumps(write_plan(build.run(start or Start()))))


def from_plan(plan: dict, without: str = "") -> Start:
    """Return a start from a plan; the tows made for a visit left out stay."""
    rows = [
        row | {"stops": [s for s in row["stops"] if s.get("stage") != without]}
        for row in plan["van_days"]
    ]
    return Start(van_days=[read_van_day(row) for row in rows])


def tows(plan: dict) -> list[str]:
    """Return where the tent is towed, in order of time."""
    found = [
        stop
        for row in plan["van_days"]
        for stop in read_van_day(row).stops
        if isinstance(stop, Tow)
    ]
    found.sort(key=lambda tow: tow.start)
    return [f"{tow.origin}>{tow.to}" for tow in found]


@pytest.mark.parametrize("had", [("quay", "dock"), ("dock", "quay")])
def test_a_trailer_stands_at_a_third_place_between_two_it_had(had):
    before = planned(week(*had), 20)
    assert tows(before) == TOWED["quay", "dock"]
    problem = week(*had, "slip")
    after = planned(problem, 0, from_plan(before))
    assert faults(problem, after) == []
    assert after["unplaced"] == []
    assert tows(after) == TOWED["quay", "slip", "dock"]


def test_a_move_nothing_needs_any_more_is_left_out_from_between_two_others():
    before = planned(week("quay", "dock", "slip"), 20)
    assert tows(before) == TOWED["quay", "slip", "dock"]
    problem = week("quay", "dock")
    after = planned(problem, 20, from_plan(before, without="slip.all"))
    assert faults(problem, after) == []
    assert tows(after) == TOWED["quay", "dock"]


@pytest.mark.parametrize("seed", range(4))
def test_a_trailer_that_came_back_to_a_place_may_stay_there_instead(seed):
    """A stage at the slip falls away; the quay is served on the first day and on the last."""
    problem = week("quay", "slip")
    again = {"windows": [hours(2)]} | needs_tent()
    both = with_stage(problem, "again", "quay", {"1": 120}, **again)
    before = planned(both, 20)
    assert tows(before) == ["yard>quay", "quay>slip", "slip>quay"]
    rest = with_stage(week("quay"), "again", "quay", {"1": 120}, **again)
    effort = Effort(seconds=60, steps=20, seed=seed)
    build = Build(read_problem(rest), effort, lambda _: None)
    after = json.loads(json.dumps(write_plan(build.run(from_plan(before, "slip.all")))))
    assert faults(rest, after) == []
    assert after["unplaced"] == []
    assert tows(after) == ["yard>quay"]
