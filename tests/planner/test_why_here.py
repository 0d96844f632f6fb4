"""What holds a visit, against the judge: a minute beyond breaks a rule, up to it none."""

from dataclasses import replace

import pytest

from dispatch.planner.cost import cost
from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.planner.rules import judge
from dispatch.planner.why_here import why_here
from tests.planner.weeks import made, planned, tiny, with_stage


def shifted(problem, plan, name, minutes):
    """Return the plan with one visit so many minutes later, its team leaving and returning to suit."""
    van_day, visit = plan.visits()[name]
    at = van_day.stops.index(visit)
    start, end = visit.start + minutes, visit.end + minutes
    stops = list(van_day.stops)
    stops[at] = replace(visit, start=start, end=end)
    base, here = problem.vans[van_day.van].base, problem.stages[name].place
    depart, back = van_day.depart, van_day.back
    if at == 0:
        depart = min(depart, start - problem.drive_min[base][here])
    if at == len(stops) - 1:
        back = max(back, end + problem.drive_min[here][base])
    moved = replace(van_day, stops=tuple(stops), depart=depart, back=back)
    days = tuple(moved if vd == van_day else vd for vd in plan.van_days)
    plan = replace(plan, van_days=days)
    return replace(plan, cost=cost(problem, plan), bound=None)


def holding_a_break(plan, name):
    van_day, visit = plan.visits()[name]
    rest = van_day.rest
    return rest is not None and rest[0] < visit.end and visit.start < rest[1]


@pytest.mark.parametrize(
    ("size", "seed"), [("small", 1), ("small", 2), ("10x3x6", 3), ("medium", 4)]
)
def test_a_visit_may_move_as_far_as_told_and_no_minute_farther(size, seed):
    week = made(size, seed)
    problem, plan = read_problem(week), read_plan(planned(week, steps=20))
    for name in plan.visits():
        here = why_here(problem, plan, name)
        if holding_a_break(plan, name):
            continue
        for most, step in ((-here.sooner, -1), (here.later, 1)):
            # A team that is out for longer may come to owe a break; that is no hold of the visit's.
            within = judge(problem, shifted(problem, plan, name, most))
            assert all("break" in fault for fault in within), (name, most, within)
            assert judge(problem, shifted(problem, plan, name, most + step)), (
                name,
                most,
            )


def two_coats(**changes):
    """Return a week of one boat: prep, then spray four hours after it, both promised by five."""
    week = with_stage(tiny(), "A", "quay", {"1": 60})
    lag = {"min_lag": 240, "max_lag": 400, "same_van_day": False}
    week = with_stage(week, "B", "quay", {"1": 60}, after=[{"stage": "A.all"} | lag])
    week["stages"][1] |= {"job": "A"}
    week["jobs"].pop()
    week["jobs"][0] |= {"promise": 1020, "late_cents_per_hour": 500}
    return week | changes


def told(week, name):
    problem, plan = read_problem(week), read_plan(planned(week, steps=20))
    return why_here(problem, plan, name)


def test_the_sentences_by_hand():
    here = told(two_coats(), "B.all")
    said = {hold.code: hold.sentence for hold in here.before}
    first = told(two_coats(), "A.all")
    end = f"{first.end // 60:02}:{first.end % 60:02}"
    assert (
        said["lag"] == f"A.all ends at day 1, {end}, and this may start 4 h after it."
    )
    assert said["window"] == "Its window opens at day 1, 07:00."
    after = {hold.code: hold for hold in here.after}
    assert (
        after["window"].sentence
        == "Its window closes at day 1, 17:00, and it takes 60 minutes."
    )
    assert "within 6 h 40 of A.all" in after["lag"].sentence
    assert after["promise"].wish
    assert after["promise"].sentence == (
        "Its job is promised for day 1, 17:00; each hour late costs $5.00."
    )


def test_what_one_visit_asks_for_is_told_once():
    week = two_coats()
    week["stages"][1]["after"][0] |= {"min_lag": 0}
    here = told(week, "A.all")
    follows = [hold for hold in here.after if hold.other == "B.all"]
    assert [hold.code for hold in follows] == ["next"]
    assert follows[0].sentence.startswith("B.all follows at day 1, ")


def test_what_was_told_and_a_pin_are_named():
    week = two_coats()
    week["stages"][0]["pinned"] = {"van": "V", "start": 500}
    here = told(week, "A.all")
    assert {h.code for h in here.before[:1]} | {h.code for h in here.after[:1]} == {
        "pin"
    }
    assert (here.sooner, here.later) == (0, 0)
    week = two_coats()
    standing = {
        "visits": [{"stage": "A.all", "start": 480}],
        "van_days": [],
        "day_cents": 9000,
    }
    standing |= {"shift_cents": 500, "shift_cents_per_hour": 100, "tolerance_min": 15}
    week["standing"] = standing
    here = told(week, "A.all")
    assert any(
        h.sentence == "People were told day 1, 08:00, give or take 15 minutes."
        for h in here.before
    )


def test_a_stage_left_out_has_no_here():
    week = with_stage(tiny(), "A", "dock", {"1": 60}, windows=[[420, 440]])
    assert told(week, "A.all") is None
