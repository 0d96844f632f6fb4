"""Hours cut to what the stages around leave: by hand, and no visit of a good plan ever lost."""

import copy

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dispatch.planner.read import read_problem
from dispatch.planner.solve.tighten import tightened
from tests.planner.brute import cheapest
from tests.planner.dozen_weeks import dozens
from tests.planner.dozens import after, dozen, job, one_job
from tests.planner.weeks import made, saved, tiny, with_stage

few = settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
HOURS = [[480, 1020]]


def stages(week, *rows, job_key="A"):
    """Return the week with more stages of a job, each a change of the job's first."""
    week = copy.deepcopy(week)
    first = next(s for s in week["stages"] if s["job"] == job_key)
    week["stages"] += [copy.deepcopy(first) | row for row in rows]
    return week


def coat(**changes):
    """Return two days on which a side is prepared, sprayed and, 600 minutes later, finished."""
    days = [[0, 1440], [1440, 2880]]
    week = tiny(days=days, **{"break": None})
    for row in week["people"] + week["vans"]:
        row["duty"] = [[420, 1080], [1860, 2520]]
    hours = {"windows": [[480, 1020], [1920, 2460]], "drop_cents": 0}
    week = with_stage(week, "A", "quay", {"1": 240, "2": 120}, **hours)
    spray = {"id": "A.spray", "minutes": {"2": 90}, "after": after("A.all")}
    finish = {"id": "A.finish", "minutes": {"1": 120}}
    finish["after"] = after("A.spray", min_lag=600)
    return stages(week, spray | changes, finish)


def left(week):
    return {name: s.windows for name, s in tightened(read_problem(week)).stages.items()}


def test_hours_are_cut_from_both_sides_by_hand():
    # Spraying starts at 480 + 120 = 600 at the earliest. The finish must end by 2460, so start by 2340, so the
    # spray be over by 1740, which only the first day's hours allow; it lasts 90, so it begins by 930, and what
    # comes before it is over by then. The finish starts at 600 + 90 + 600 = 1290, so on the second day.
    assert left(coat()) == {
        "A.all": ((480, 930),),
        "A.spray": ((600, 1020),),
        "A.finish": ((1920, 2460),),
    }


def test_a_lag_by_the_hour_is_looked_up_where_the_visit_can_end():
    # A coat that is over by 800 sets in 300 minutes, one over later in 1,300: only the first is sanded by 2460.
    week = coat(windows=[[480, 1020]])
    week["stages"][2]["after"][0]["min_lag"] = [[0, 800, 300], [800, 1100, 1300]]
    week["stages"][2]["windows"] = [[1440, 2100]]
    assert left(week)["A.spray"] == ((600, 799),)


def test_a_longest_wait_binds_what_is_early_and_what_is_late():
    week = coat()
    week["stages"][1]["after"] = after("A.all", max_lag=60)
    week["stages"][1]["windows"] = [[800, 1020]]
    week["stages"][2]["after"] = after("A.spray")
    # Sprayed from 800 on, so prepared no earlier than 740: begun by a slow team of one at 500.
    assert left(week)["A.all"] == ((500, 930),)
    # Prepared by 1020 at the latest, sprayed by 1080 at the latest: its own hours end before that.
    assert left(week)["A.spray"] == ((800, 1020),)


def test_a_way_that_no_hours_are_left_for_loses_all_and_binds_nothing():
    week = coat(variant="open", windows=[[480, 610]])
    tented = {"id": "A.tented", "variant": "tented", "windows": [[800, 1020]]}
    week = stages(week, copy.deepcopy(week["stages"][1]) | tented)
    week["stages"][2]["after"] = after("A.spray", min_lag=600)
    week["stages"][2]["after"] += after("A.tented", min_lag=1100)
    week["jobs"][0]["variants"] = ["open", "tented"]
    hours = left(week)
    assert hours["A.spray"] == ()
    assert hours["A.tented"] == ((800, 1020),)
    assert hours["A.finish"] == ((1990, 2460),)


def test_what_may_pay_alone_keeps_the_hours_that_its_rest_has_not():
    week = coat()
    week["stages"][2]["windows"] = [[480, 700]]
    assert left(week)["A.all"] == ()
    # 240 minutes at $30 an hour are $120: done for its own sake where leaving it out costs more.
    for row in week["stages"]:
        row["drop_cents"] = 12001
    assert left(week)["A.all"] == ((480, 1020), (1920, 2460))
    told = coat() | {"standing": None}
    told["stages"][2]["windows"] = [[480, 700]]
    told["standing"] = {"visits": [{"stage": "A.all", "start": 500}], "van_days": []}
    told["standing"] |= dict.fromkeys(("day_cents", "shift_cents"), 900)
    told["standing"] |= {"shift_cents_per_hour": 600, "tolerance_min": 30}
    assert left(told)["A.all"] == ((480, 1020), (1920, 2460))


def test_an_extra_keeps_nothing_waiting():
    week = coat()
    week["stages"][2] |= {"extra": True, "windows": [[480, 700]]}
    assert left(week)["A.finish"] == ()
    assert left(week)["A.spray"] == ((600, 1020), (1920, 2460))


def test_what_is_fixed_keeps_its_hours_and_binds_the_rest():
    week = coat() | {"now": 700}
    stop = {"do": "visit", "stage": "A.all", "start": 500, "end": 740}
    row = {"van": "V", "day": 0, "team": ["Ann"], "depart": 460, "back": 760}
    week["frozen"] = [row | {"break": None, "stops": [stop]}]
    assert left(week)["A.all"] == ((480, 1020), (1920, 2460))
    assert left(week)["A.spray"] == ((740, 1020),)
    pinned = coat(pinned={"van": "V", "start": 700})
    assert left(pinned)["A.all"] == ((480, 700),)
    assert left(pinned)["A.spray"] == ((480, 1020), (1920, 2460))


def lost(week, plan):
    """Return the visits of jobs done whole that the cut hours no longer hold."""
    hours = tightened(read_problem(week)).stages
    seen = {
        s["stage"]: (s["start"], s["end"])
        for vd in plan["van_days"]
        for s in vd["stops"]
        if s["do"] == "visit"
    }
    extra = {s["id"] for s in week["stages"] if s["extra"]}
    short = {hours[u["stage"]].job for u in plan["unplaced"] if u["stage"] not in extra}
    return [
        name
        for name, (start, end) in seen.items()
        if hours[name].job not in short
        and not any(a <= start and end <= b for a, b in hours[name].windows)
    ]


@pytest.mark.timeout(180)
@given(dozens(), st.sampled_from([0, 500]))
@few
def test_the_cheapest_plan_of_a_tiny_week_keeps_every_visit(week, drop):
    for row in week["stages"]:
        row["drop_cents"] = drop
    best = cheapest(week)
    assert lost(week, best) == []
    usable = tightened(read_problem(week)).stages
    cut = copy.deepcopy(week)
    for row in cut["stages"]:
        row["windows"] = [list(w) for w in usable[row["id"]].windows]
    assert cheapest(cut)["cost"]["total"] == best["cost"]["total"]


@pytest.mark.parametrize("lag", [0, 3, 8])
def test_the_cheapest_plan_of_a_job_in_turn_keeps_every_visit(lag):
    week = one_job(dozen(), {"1": 4}, drop_cents=0)
    week = stages(week, {"id": "A.then", "minutes": {"1": 3}, "drop_cents": 0})
    week["stages"][1]["after"] = after("A.all", min_lag=lag, max_lag=lag + 2)
    week = job(week, "B", "dock", {"1": 2})
    plan = cheapest(week)
    assert lost(week, plan) == []


@pytest.mark.parametrize("name", ["six_jobs", "ten_jobs", "rich_noon"])
def test_a_saved_plan_keeps_every_visit(name):
    assert lost(*saved(name)) == []


def test_a_generated_week_loses_hours_and_nothing_else():
    problem = read_problem(made("medium+", 1))
    usable = tightened(problem)
    assert usable.stages.keys() == problem.stages.keys()

    def minutes(of):
        return sum(b - a for s in of.stages.values() for a, b in s.windows)

    assert 0.5 < minutes(usable) / minutes(problem) < 0.95
