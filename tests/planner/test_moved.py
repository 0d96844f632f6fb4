"""Moving a stage to a day: a real plan, priced to the cent, or the reason why not."""

import copy
import json

import pytest

from dispatch.planner.cost import cost
from dispatch.planner.moved import moved
from dispatch.planner.plan import read_plan, write_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve import whatif as whatif_module
from dispatch.planner.solve.laid import followers
from dispatch.planner.solve.whatif import WhatIf
from tests.planner.brute import cheapest
from tests.planner.weeks import DAY, faults, made, planned, tiny, with_stage


def asked(week, steps=20):
    """Return the question for a week as planned: the problem, its plan and the arrays."""
    problem, plan = read_problem(week), read_plan(planned(week, steps=steps))
    return problem, plan, WhatIf(problem, plan)


@pytest.mark.parametrize(
    ("size", "seed"), [("small", 1), ("small+", 2), ("12x3x6", 3), ("10x3x6+", 4)]
)
def test_every_move_is_a_plan_without_a_fault_and_its_price_is_exact(size, seed):
    week = made(size, seed)
    problem, plan, whatif = asked(week)
    before, moves = cost(problem, plan)["total"], 0
    for name in plan.visits():
        for day in range(len(problem.days)):
            shift = moved(whatif, name, day)
            if shift.plan is None:
                assert shift.why_not.endswith(".")
                continue
            moves += 1
            raw = json.loads(json.dumps(write_plan(shift.plan)))
            assert faults(week, raw) == []
            assert shift.cents == raw["cost"]["total"] - before
            assert shift.plan.visits()[name][0].day == day
            assert set(shift.lost) == set(plan.visits()) - set(shift.plan.visits())
    assert moves > 0


def test_the_rest_of_the_week_stays_in_its_van_days():
    problem, plan, whatif = asked(made("12x3x6", 3))
    for name in list(plan.visits())[:12]:
        number = whatif.facts.number[name]
        block = {
            s
            for s in range(len(whatif.facts.stages))
            if whatif.given["stages"]["block"][s]
            == whatif.given["stages"]["block"][number]
        }
        free = {whatif.facts.stages[s].id for s in followers(whatif.facts, block)}
        for day in range(len(problem.days)):
            after = moved(whatif, name, day).plan
            for other, (was, _) in plan.visits().items() if after else ():
                if other not in free and other in after.visits():
                    now = after.visits()[other][0]
                    assert (now.van, now.day) == (was.van, was.day)


def test_the_question_leaves_no_trace():
    _, plan, whatif = asked(made("small+", 2))
    names, days = list(plan.visits()), range(len(whatif.problem.days))
    first = [moved(whatif, name, day).cents for name in names for day in days]
    again = [moved(whatif, name, day).cents for name in names for day in days]
    assert first == again
    assert whatif.priced(whatif.week) == whatif.cents


def two_days():
    """Return a week of two short days with one job of four minutes, and a second one."""
    week = tiny(days=[[0, 24], [24, 48]], drive_min=[[0, 1, 2], [1, 0, 1], [2, 1, 0]])
    for row in week["people"] + week["vans"]:
        row["duty"] = [[0, 12], [24, 36]]
    week["break"] = None
    for name, where in (("A", "quay"), ("B", "dock")):
        week = with_stage(
            week, name, where, {"1": 4, "2": 2}, windows=[[0, 12], [24, 36]]
        )
    return week


def test_no_plan_with_it_on_that_day_is_cheaper_than_the_cheapest_there_is():
    # The witness tries every plan of the week in which the stage has windows on the other day alone.
    week = two_days()
    _, plan, whatif = asked(week)
    name = "A.all"
    day = 1 - plan.visits()[name][0].day
    shift = moved(whatif, name, day)
    there = copy.deepcopy(week)
    there["stages"][0]["windows"] = [week["stages"][0]["windows"][day]]
    least = cheapest(there)["cost"]["total"]
    assert shift.plan.cost["total"] >= least
    alone = copy.deepcopy(week)
    alone["jobs"], alone["stages"] = alone["jobs"][:1], alone["stages"][:1]
    there["jobs"], there["stages"] = there["jobs"][:1], there["stages"][:1]
    _, plan, whatif = asked(alone)
    shift = moved(whatif, name, 1 - plan.visits()[name][0].day)
    assert shift.plan.cost["total"] == cheapest(there)["cost"]["total"]


def two_plain_days(**changes):
    week = tiny(days=[[0, DAY], [DAY, 2 * DAY]])
    for row in week["people"] + week["vans"]:
        row["duty"] = [[420, 1020], [DAY + 420, DAY + 1020]]
    week["break"]["windows"] = [[660, 840], [DAY + 660, DAY + 840]]
    both = [[420, 1020], [DAY + 420, DAY + 1020]]
    return with_stage(week, "A", "quay", {"1": 60}, **({"windows": both} | changes))


def why_not(week, day, name="A.all"):
    return moved(asked(week)[2], name, day).why_not


def test_why_it_cannot_move_by_hand():
    assert why_not(two_plain_days(), 0) == "It is on day 1 already."
    first = two_plain_days(windows=[[420, 1020]])
    assert why_not(first, 1) == "It has no window on day 2."
    pinned = two_plain_days(pinned={"van": "V", "start": 600})
    assert why_not(pinned, 1) == "It is pinned; take the pin out first."
    off = two_plain_days()
    for person in off["people"]:
        person["duty"][1] = None
    assert "on none can a team of 1 with a driver be formed" in why_not(off, 1)
    done = two_plain_days()
    stop = {"do": "visit", "stage": "A.all", "start": 440, "end": 500}
    row = {"van": "V", "day": 0, "team": ["Ann"], "depart": 420, "back": 520}
    done["frozen"] = [row | {"break": None, "stops": [stop]}]
    done["now"] = 600
    assert why_not(done, 1) == "It is done or under way."
    full = two_plain_days()
    second = [[DAY + 420, DAY + 1020]]
    full = with_stage(full, "B", "dock", {"1": 500}, windows=second)
    full["jobs"][-1]["unfinished_cents"] = 900_000
    assert why_not(full, 1) == (
        "No team with a van has room for its 60 minutes on day 2 beside what is planned."
    )


def test_what_follows_is_put_in_once_each(monkeypatch):
    # Counted, not timed: the work of one answer does not grow with the week.
    _, plan, whatif = asked(made("medium", 1), steps=2)
    puts = []
    put = whatif_module.put_pinned
    monkeypatch.setattr(
        whatif_module, "put_pinned", lambda *given: puts.append(1) or put(*given)
    )
    for name in plan.visits():
        job = whatif.facts.job_of[whatif.facts.number[name]]
        puts.clear()
        moved(whatif, name, 1)
        assert len(puts) <= len(whatif.facts.of_job[job])
