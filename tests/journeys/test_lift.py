"""A boat that hangs in the slings at a minute of the yard's: two hands are there 15 min before, and all else gives way.

The lift is at 10:00 on Thursday, so the crew begins at 09:45 [common practice: be there before the lift].
"""

import pytest

from dispatch.actions import book, weather
from dispatch.records.models import JobKind, Van
from tests.actions import plans, shop
from tests.journeys.asked import DAY, problem_of_the_week, row, visits
from tests.planner.weeks import faults, planned

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
AT = 3 * DAY + 9 * 60 + 45


@pytest.fixture
def week():
    """Rosalind's Oath to be lifted, and Bread & Butter to be washed in the same yard, by two people with one van."""
    place = plans.outfit()
    kinds = {kind.key: kind for kind in JobKind.objects.all()}
    lifted = shop.boat(place, feet=32, key="rosalind", name="Rosalind's Oath")
    book.take_job(
        key="j11",
        boat=lifted,
        kind=kinds["bottom-wash"],
        fixed_start=plans.at(27, "09:45"),
        unfinished_cents=64000,
    )
    other = shop.boat(place, key="bread", name="Bread & Butter")
    washed = {"boat": other, "kind": kinds["wash"], "unfinished_cents": 9200}
    book.take_job(key="j10", **washed)
    weather.take_in(place)
    for job in (lifted.jobs.get(), other.jobs.get()):
        for stage in job.stages.select_related("job__boat__place"):
            weather.judge(stage)
    return place


def thursday_only(problem):
    for stage in problem["stages"]:
        stage["windows"] = [
            [start, end]
            for start, end in stage["windows"]
            if 3 * DAY <= start < 4 * DAY
        ]
    return problem


def test_two_are_there_to_the_minute_and_the_other_boat_waits(week):
    problem = thursday_only(problem_of_the_week())
    plan = planned(problem, steps=200)
    assert faults(problem, plan) == []
    van_day, stop = visits(plan)["j11.slings"]
    assert stop["start"] == AT
    assert len(van_day["team"]) == 2
    washed = visits(plan)["j10.wash"][1]
    assert washed["end"] <= AT or washed["start"] >= stop["end"]


def test_the_lift_does_not_move_however_the_week_is_asked(week):
    slings = row(problem_of_the_week(), "j11.slings")
    length = max(slings["minutes"].values())
    assert slings["windows"] == [[AT, AT + length]]
    assert min(slings["minutes"]) == "2"


def test_a_van_that_cannot_be_there_in_time_leaves_it_out_and_says_so(week):
    Van.objects.update(duty_start="09:50")
    problem = thursday_only(problem_of_the_week())
    plan = planned(problem, steps=100)
    assert faults(problem, plan) == []
    told = {one["stage"]: one for one in plan["unplaced"]}
    assert told["j11.slings"]["code"] in ("out-of-reach", "no-team")
    assert told["j11.pad"]["code"] in ("waits-for", "job-blocked")
    assert "j10.wash" in visits(plan)
