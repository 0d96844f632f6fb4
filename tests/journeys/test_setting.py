"""A boat sets under her roof: her two people and the spray trailer work on elsewhere at once, the roof once she is rain-safe.

Laid by Monday 13:30 she is rain-safe at 18:31 and sandable on Tuesday 19:30, worked out by a script that shares no
code with the house, to 10 minutes.
"""

from datetime import time

import pytest

from dispatch.actions import book, planning, reporting, weather
from dispatch.records.models import (
    AccessHours,
    Duty,
    Equipment,
    Hold,
    Job,
    JobKind,
    Outfit,
    Person,
    Sheet,
    Standing,
    Van,
)
from tests.actions import laid, plans, shop
from tests.bench.variants import in_ways
from tests.journeys.asked import (
    DAY,
    done_by,
    keep_stages,
    problem_of_the_week,
    row,
    visits,
)
from tests.planner.weeks import faults, planned

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
COATS = {"port": ("08:00", "09:30"), "starboard": ("09:30", "11:00"), "ends": ("12:00", "13:30")}  # fmt: skip
SAFE, NOW = 18 * 60 + 31, 13 * 60 + 35


@pytest.fixture
def setting():
    """Lay Second Wind under the Loft by 13:30 on Monday; Bread & Butter is washed and masked in another yard."""
    first = masked()
    lay(first, *COATS)
    return first


@laid.from_memory
def masked() -> Job:
    """Mask both boats by Monday 05:00, and judge what is left of them."""
    yard = plans.outfit()
    loft = Equipment.objects.create(
        key="loft",
        name="Loft",
        kind="canopy",
        towed=False,
        roof=True,
        take_minutes=25,
        set_minutes=35,
    )
    Standing.objects.create(equipment=loft, place=yard, since=plans.at(22, "18:00"))
    lane = shop.driveway(
        key="s6", name="Quarry Lane", latitude=44.08, longitude=-69.195
    )
    for hours in (Duty, AccessHours):
        hours.objects.update(end=time(22))
    Van.objects.update(duty_end=time(22))
    first = plans.coat(yard)
    second = book.take_job(
        key="j2",
        boat=shop.boat(lane, key="bread", name="Bread & Butter"),
        kind=JobKind.objects.get(key="spray-coat"),
        sheet=Sheet.objects.get(),
        unfinished_cents=900_000,
    )
    weather.take_in(lane)
    Outfit.objects.update(stands_at=plans.at(24, "05:00"))
    for job in (first, second):
        done_by(job, plans.at(24, "04:55"), "prep", "mask")
        for stage in job.stages.all():
            weather.judge(stage)
    return first


def lay(job: Job, *sides: str) -> None:
    """Post her coats for Monday, and have the crew tell each of some done as it ends; it is 13:35 then."""
    stops = [(f"j1.{key}-roofed", *COATS[key]) for key in sides]
    plan = plans.draft([(24, "07:30", "14:00", stops)])
    plan.plan |= {"chosen": {"j1": "roofed"}}
    plan.plan["van_days"][0]["break"] = [11 * 60, 11 * 60 + 30]
    plan.save()
    planning.post(plan, by=plans.owner())
    rook = Person.objects.get(key="rook")
    for key in sides:
        ended = plans.at(24, COATS[key][1])
        Outfit.objects.update(stands_at=ended)
        stages = job.stages.select_related("job__boat__place", "sheet")
        reporting.finish(stages.get(key=f"{key}-roofed"), rook, ended)
    Outfit.objects.update(stands_at=plans.at(24, "13:35"))


def of_the_second(way: str):
    """Return van-day and visit of one side of the second boat, to be sprayed in a way at any hour of Monday left."""
    return sprayed(in_ways(problem_of_the_week(), {"j2": way}), f"j2.port-{way}")


def sprayed(problem, side: str):
    going = {
        stop["stage"]
        for day in problem["frozen"]
        for stop in day["stops"]
        if stop["do"] == "visit"
    }
    keep_stages(problem, side, *going)
    row(problem, side)["windows"] = [[NOW, 22 * 60]]
    plan = planned(problem, steps=300)
    assert faults(problem, plan) == []
    assert plan["unplaced"] == []
    return visits(plan)[side]


def test_she_is_rain_safe_and_sandable_when_the_script_says(setting):
    holds = Hold.objects.filter(stage__key="ends-roofed")
    ends = {hold.kind: hold.end for hold in holds}
    for kind, moment in (
        ("rain-safe", plans.at(24, "18:31")),
        ("sandable", plans.at(25, "19:30")),
    ):
        assert abs(ends[kind] - moment).total_seconds() <= 600


def test_her_people_spray_elsewhere_with_the_trailer_while_she_is_wet(setting):
    van_day, stop = of_the_second("as-she-lies")
    assert van_day["team"] == ["rook", "teague"]
    assert NOW < stop["start"] < stop["end"] < SAFE


def test_her_roof_comes_away_only_once_she_is_rain_safe(setting):
    van_day, stop = of_the_second("roofed")
    (tow,) = [
        one
        for one in van_day["stops"]
        if one["do"] == "tow" and one["trailer"] == "loft"
    ]
    assert SAFE - 10 <= tow["start"] <= SAFE + 30
    assert tow["end"] <= stop["start"]
    assert stop["end"] < DAY


def test_her_own_last_side_is_sprayed_under_the_same_roof_meanwhile(setting):
    """Her film keeps the roof over her, not from her."""
    ends = Job.objects.get(key="j1").stages.get(key="ends-roofed")
    ends.holds.all().delete()
    type(ends).objects.filter(pk=ends.pk).update(state="to-do", ended_at=None)
    ends.visit.delete()
    problem = in_ways(problem_of_the_week(), {"j1": "roofed", "j2": "roofed"})
    _, stop = sprayed(problem, "j1.ends-roofed")
    assert stop["end"] < SAFE
