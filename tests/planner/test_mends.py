"""What would let a stage in, against the same week with that one thing really changed, and by hand."""

import copy
import re

import pytest

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import read_plan
from dispatch.planner.read import read_problem
from dispatch.planner.solve.mends import mends
from dispatch.planner.solve.start import Start
from dispatch.planner.solve.walker import Walker
from tests.planner.weeks import faults, made, planned, tiny, with_stage

SPRAY = [{"skill": "spray", "level": 1, "count": 1}]
TENT = {"id": "T1", "kind": "tent", "place": "yard", "towed": True}
TENT |= {"hook_min": 5, "unhook_min": 5, "factor_pct": 100}


def twins(minutes=90, worth=(50000, 40000), **changes):
    """Return a week of two jobs at one place that both want the same ten to noon."""
    week = tiny()
    for name, cents in zip("AB", worth, strict=True):
        more = {"windows": [[600, 600 + minutes + 10]]} | changes
        week = with_stage(week, name, "quay", {"1": minutes}, **more)
        week["jobs"][-1]["unfinished_cents"] = cents
        week["jobs"][-1]["finish_cents_per_hour"] = 0
    return week


def second(row, **changes):
    return copy.deepcopy(row) | changes


def with_two_vans(week):
    week["vans"].append(second(week["vans"][0], id="W"))
    return week


def one_sprayer():
    week = with_two_vans(twins(needs=SPRAY))
    week["people"][0]["skills"] = {"spray": 1}
    return week


def one_van():
    return twins()


def one_tent():
    week = with_two_vans(twins(trailers=[{"kind": "tent", "stays_min": 0}]))
    return week | {"trailers": [TENT]}


def short_window():
    week = twins()
    week["vans"][0]["seats"] = 1
    week["people"] = week["people"][:1]
    week["stages"][1]["windows"] = [[540, 680]]
    return week


def short_duty():
    week = short_window()
    week["people"][0]["duty"] = [[570, 710]]
    for stage in week["stages"]:
        stage["windows"] = [[0, 1440]]
    return week


def another_sprayer(week):
    week["people"].append(second(week["people"][0], id="Cal"))


def another_van(week):
    week["vans"].append(second(week["vans"][0], id="X"))


def another_tent(week):
    week["trailers"].append(second(TENT, id="T2"))


def later_window(week):
    week["stages"][1]["windows"] = [[540, 710]]


CASES = [
    (
        one_sprayer,
        another_sprayer,
        "One more person with spray on day 1 would let it in",
    ),
    (one_van, another_van, "One more van on day 1 would let it in"),
    (one_tent, another_tent, "One more tent would let it in"),
]


@pytest.mark.parametrize(("make", "change", "says"), CASES)
def test_one_thing_more_costs_what_the_changed_week_costs(make, change, says):
    week = make()
    plan = planned(week, steps=40)
    assert faults(week, plan) == []
    [left] = plan["unplaced"]
    assert (left["stage"], left["code"]) == ("B.all", "no-room")
    assert left["why"].startswith(says)
    adds, saves = (
        float(x.replace(",", "")) for x in re.findall(r"\$([\d,.]+\d)", left["why"])
    )
    changed = copy.deepcopy(week)
    change(changed)
    with_it = planned(changed, steps=40)
    assert with_it["unplaced"] == []
    more = with_it["cost"]["total"] - plan["cost"]["total"]
    # Seven parts of each total are rounded to whole cents.
    assert round(100 * (adds - saves)) == pytest.approx(more, abs=4)


def test_longer_hours_are_told_with_the_day_and_the_minutes():
    week = short_duty()
    [left] = planned(week, steps=40)["unplaced"]
    assert re.match(
        r"Duty (beginning earlier|ending later) by 120 minutes for everybody on day 1",
        left["why"],
    )
    week["people"][0]["duty"] = [[570, 730]]
    [left] = planned(week, steps=40)["unplaced"]
    assert "by 60 minutes for everybody on day 1" in left["why"]


def test_a_longer_window_is_told_with_its_stage_and_the_minutes():
    week = short_window()
    [left] = planned(week, steps=40)["unplaced"]
    assert left["stage"] == "B.all"
    # A may start at ten and end at half past eleven; B needs ninety minutes before it or after it.
    assert left["why"].startswith(
        "A window for B.all opening earlier by 30 minutes on day 1 would let it in"
    )


def test_what_it_would_push_out_is_told_with_its_hour_and_the_price():
    # Neither a van nor a person alone helps, and no window or duty grows by two hours and a half;
    # the two jobs differ by nothing but the $100 that leaving B out costs less.
    week = twins(minutes=300)
    week["people"] = week["people"][:1]
    week["people"][0]["duty"] = [[540, 960]]
    plan = planned(week, steps=40)
    assert [u["why"] for u in plan["unplaced"]] == [
        "It would push out A.all (day 1, 10:00); the week would cost $100.00 more."
    ]


def test_what_cannot_be_even_alone_is_told_so():
    week = twins()
    lag = {"min_lag": 400, "max_lag": None, "same_van_day": False}
    week["stages"][1] |= {"job": "A", "after": [{"stage": "A.all"} | lag]}
    week["jobs"].pop()
    plan = planned(week, steps=20)
    assert faults(week, plan) == []
    why = {u["stage"]: (u["code"], u["why"]) for u in plan["unplaced"]}
    assert why["A.all"] == (
        "not-worth",
        "Its job cannot be finished: B.all cannot start before day 1, 18:10, as it comes after A.all, "
        "and no window of 90 minutes is left then (the last closes day 1, 11:40).",
    )
    assert why["B.all"][0] == "waits-for"


def test_two_that_must_share_a_van_day_and_do_not_fit_in_one_are_told_so():
    week = twins(minutes=300)
    same = {"min_lag": 0, "max_lag": None, "same_van_day": True}
    # One after the other they fill their windows; the break that so long a day owes fits nowhere.
    for stage, windows in zip(week["stages"], ([440, 740], [740, 1040]), strict=True):
        stage["windows"] = [windows]
    for person in week["people"]:
        person["duty"] = [[420, 1060]]
    week["stages"][1] |= {"job": "A", "after": [{"stage": "A.all"} | same]}
    week["jobs"].pop()
    plan = planned(week, steps=20)
    assert faults(week, plan) == []
    assert plan["unplaced"][0] == {
        "stage": "A.all",
        "code": "not-worth",
        "why": "No way was found to finish its job: B.all has no place even with nothing else planned; "
        "A.all and B.all must share a van-day and take 600 minutes.",
    }


def test_each_way_of_doing_the_job_is_tried():
    week = one_sprayer()
    week["jobs"][1]["variants"] = ["open", "tented"]
    tented = copy.deepcopy(week["stages"][1])
    week["stages"][1] |= {"variant": "open", "windows": [[640, 740]]}
    week["stages"].append(tented | {"id": "B.tented", "variant": "tented"})
    [left] = planned(week, steps=40)["unplaced"]
    assert re.match(
        r"One more person with spray on day 1, done (open|tented), would let it in",
        left["why"],
    )


def test_told_to_stop_it_asks_nothing_more():
    week = read_problem(one_van())
    plan = read_plan(planned(one_van(), steps=20))
    assert mends(week, plan, ["B.all"], lambda: True) == {}
    assert mends(week, plan, ["B.all"], lambda: False)["B.all"].says


def test_a_job_is_tried_once_for_all_its_stages_and_the_tries_are_bounded(monkeypatch):
    week = made("medium", 1)
    plan = read_plan(planned(week, steps=0))
    problem, tries = read_problem(week), []
    left = [s for s in problem.stages if s not in plan.visits()]
    added = Walker.added
    monkeypatch.setattr(
        Walker, "added", lambda self, stage: tries.append(stage) or added(self, stage)
    )
    mends(problem, plan, left, lambda: False)
    jobs = {problem.stages[name].job for name in left}
    stages = [s for s in problem.stages.values() if s.job in jobs]
    # For each stage and day: its needs, a van, two windows and two duties, each in three lengths, all
    # once more with what belongs together on that day; each trailer, and the empty week, on every day.
    days = len(problem.days)
    most = 2 * days * sum(len(s.needs) + 1 + 12 for s in stages)
    most += (days + 1) * sum(len(s.trailers) + 2 for s in stages)
    assert 0 < len(tries) <= most


def test_who_stopped_the_search_is_still_told_why():
    stops = iter([False] * 3)
    effort = Effort(seconds=600, stop=lambda: next(stops, True))
    plan = Build(read_problem(one_van()), effort, lambda _: None).run(Start())
    assert any("would let it in" in u.why for u in plan.unplaced)


def test_a_stop_while_it_explains_ends_that():
    told, asked = [], []

    def stop():
        asked.extend(["explain"] * ("explain" in told))
        return len(asked) > 1

    build = Build(
        read_problem(one_van()),
        Effort(seconds=600, steps=0, stop=stop),
        lambda line: told.append(line["phase"]),
    )
    assert [u.why for u in build.run(Start()).unplaced] == [
        "No place was found for its 90 minutes beside what is planned; free a van-day or a person."
    ]
