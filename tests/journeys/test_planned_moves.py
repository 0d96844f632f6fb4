"""Hard moves from the tables through the snapshot to the planner: rides home, a trailer towed, a boat turned.

Minutes and hours named here are worked out by hand from the places' distances and the sun [common practice
for the rules, the outfit's own for the rates].
"""

import pytest

from dispatch.actions import book, weather
from dispatch.records.models import (
    Duty,
    Job,
    JobKind,
    Outfit,
    Person,
    Sheet,
    Skill,
    Stage,
    Standing,
    Van,
)
from tests.actions import plans, shop
from tests.actions.test_turns import skiff
from tests.bench.variants import in_ways
from tests.journeys.asked import (
    DAY,
    done_by,
    keep_stages,
    problem_of_the_week,
    row,
    visits,
)
from tests.planner.told import Told
from tests.planner.weeks import faults, planned

TUESDAY_18, WEDNESDAY_0730 = DAY + 18 * 60, 2 * DAY + 7 * 60 + 30

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


def washes(*places):
    """Take a wash in each place, and judge it."""
    for number, place in enumerate(places, 1):
        boat = shop.boat(place, key=f"boat-{number}", name=f"Boat {number}")
        kind = JobKind.objects.get(key="wash")
        job = book.take_job(
            key=f"w{number}", boat=boat, kind=kind, unfinished_cents=90000
        )
        weather.take_in(place)
        for stage in job.stages.all():
            weather.judge(stage)


def two_places(*, drives):
    """Return the problem of a wash in either of two places at the same hours, for Teague and for Rook who may not drive."""
    near = plans.outfit()
    far = shop.driveway(
        key="s7", name="Ledge Point", latitude=43.935, longitude=-69.262
    )
    Person.objects.filter(key="rook").update(drives=drives)
    Van.objects.create(
        key="eider",
        name="Eider",
        base=near,
        seats=3,
        gear=["washer"],
        duty_start="06:00",
        duty_end="18:00",
    )
    washes(near, far)
    problem = problem_of_the_week()
    for stage in problem["stages"]:
        stage["minutes"] = {"1": 240}
        stage["windows"] = [[8 * 60, 15 * 60]]
    return problem


def test_while_one_of_two_drives_the_other_is_left_nowhere():
    # Dropped at one place while the van works at the other, nobody would fetch Rook in the evening.
    problem = two_places(drives=False)
    plan = planned(problem, steps=200)
    assert faults(problem, plan) == []
    assert len(visits(plan)) == 1
    ours, theirs = dropped_off(problem, plan)
    assert any("minutes for the 39 minutes" in sentence for sentence in ours)
    assert any("min for the 39 min drive" in sentence for sentence in theirs)
    ours, theirs = by_himself(problem, plan)
    assert any("nobody in the team drives" in sentence for sentence in ours)
    assert any("no driver" in sentence for sentence in theirs)


def dropped_off(problem, plan):
    """Return both judges' words on the van's people at both places at once."""
    told = Told(problem, plan)
    [vd] = told.plan["van_days"]
    left = told.plan["unplaced"].pop()["stage"]
    vd["team"] = ["rook", "teague"]
    vd["stops"].append(vd["stops"][0] | {"stage": left})
    return told.restated().verdicts()


def by_himself(problem, plan):
    """Return both judges' words on Rook alone in the van."""
    told = Told(problem, plan)
    told.plan["van_days"][0]["team"] = ["rook"]
    return told.restated().verdicts()


def test_with_a_licence_more_both_places_are_served_and_everyone_rides_home():
    problem = two_places(drives=True)
    plan = planned(problem, steps=200)
    assert faults(problem, plan) == []
    assert len(visits(plan)) == 2
    assert sorted(vd["team"] for vd in plan["van_days"]) == [["rook"], ["teague"]]


def trailer_in_two_places(*, tows=True):
    """Return the problem of two coats with the spray trailer: Ledge Point till Tuesday 18:00, Widow's Bight Wednesday 07:30."""
    yard = plans.outfit()
    south = shop.driveway(
        key="s7", name="Ledge Point", latitude=43.935, longitude=-69.262
    )
    north = shop.driveway(
        key="s4", name="Widow's Bight", latitude=44.2095, longitude=-69.0655
    )
    Standing.objects.update(place=south)
    Van.objects.update(
        base=yard,
        tow_rating_kg=2000 if tows else 0,
        duty_start="05:00",
        duty_end="21:00",
    )
    Duty.objects.update(start="05:00", end="21:00")
    for number, place in enumerate((south, north), 1):
        boat = shop.boat(place, key=f"boat-{number}", name=f"Boat {number}")
        kind, sheet = (
            JobKind.objects.get(key="spray-coat"),
            Sheet.objects.first() or shop.one_part(),
        )
        book.take_job(
            key=f"j{number}", boat=boat, kind=kind, sheet=sheet, unfinished_cents=200000
        )
        weather.take_in(place)
    for stage in Stage.objects.all():
        weather.judge(stage)
    problem = problem_of_the_week()
    ways = {job["id"]: "as-she-lies" for job in problem["jobs"]}
    sides = ("j1.port-as-she-lies", "j2.port-as-she-lies")
    problem = keep_stages(in_ways(problem, ways), *sides)
    length = row(problem, sides[0])["minutes"]["2"]
    row(problem, sides[0])["windows"] = [[TUESDAY_18 - length, TUESDAY_18]]
    row(problem, sides[1])["windows"] = [[WEDNESDAY_0730, WEDNESDAY_0730 + length]]
    return problem


def tows(plan):
    stops = ((vd, stop) for vd in plan["van_days"] for stop in vd["stops"])
    return [(vd, stop) for vd, stop in stops if stop["do"] == "tow"]


def test_a_trailer_is_towed_in_the_evening_or_before_it_is_needed():
    # 57 minutes by road, a fifth more with a trailer: 68.4. Ten to pack up there go with the drive, so 80.4, 81 whole ones;
    # and a quarter of an hour at each end.
    problem = trailer_in_two_places()
    plan = planned(problem, steps=300)
    assert faults(problem, plan) == []
    assert plan["unplaced"] == []
    [(vd, tow)] = tows(plan)
    assert tow["end"] - tow["start"] == 15 + 81 + 15
    assert tow["start"] >= TUESDAY_18
    assert tow["end"] <= WEDNESDAY_0730
    assert vd["team"]


def test_without_a_van_that_tows_the_trailer_stays_and_the_work_is_left_out():
    problem = trailer_in_two_places(tows=False)
    plan = planned(problem, steps=300)
    assert faults(problem, plan) == []
    assert tows(plan) == []
    assert [left["stage"] for left in plan["unplaced"]] == ["j2.port-as-she-lies"]
    assert plan["unplaced"][0]["code"] == "no-trailer"


def on_friday_and_saturday(**lies):
    """Return the problem of a skiff heading west, washed and scuffed, whose crew is there Friday and Saturday, 09:00 to 17:00."""
    job = skiff(**lies)
    weather.take_in(job.boat.place)
    for stage in job.stages.all():
        weather.judge(stage)
    Duty.objects.exclude(weekday__in=(4, 5)).delete()
    Duty.objects.update(start="09:00", end="17:00")
    for person in Person.objects.all():
        for name in ("decals", "interior"):
            Skill.objects.create(person=person, name=name)
    Outfit.objects.update(stands_at=plans.at(27, "20:00"))
    done_by(job, plans.at(27, "17:00"), "prep")
    Job.objects.update(unfinished_cents=300000)
    return problem_of_the_week()


SIDES = ("port", "starboard")


def side_days(plan):
    return {
        name: vd["day"]
        for name, (vd, _) in visits(plan).items()
        if name.removeprefix("j1.").split("-")[0] in SIDES
    }


def test_a_boat_turned_before_any_film_has_both_sides_done_in_a_day():
    problem = on_friday_and_saturday(turned_heading_deg=355)
    assert "turned" in problem["jobs"][0]["variants"]
    plan = planned(problem, steps=600)
    assert faults(problem, plan) == []
    assert plan["chosen"] == {"j1": "turned"}
    assert side_days(plan) == {"j1.port-turned": 4, "j1.starboard-turned": 4}
    (vd, turn) = visits(plan)["j1.turn-turned"]
    # 40 labour-minutes: two people for twenty.
    assert len(vd["team"]) == 2
    assert turn["end"] - turn["start"] == 20
    assert all(
        turn["end"] <= visits(plan)[name][1]["start"] for name in side_days(plan)
    )


def test_on_stands_her_sunny_side_is_not_done_in_the_crews_hours():
    # Heading 265, her port side is in shade before 08:35 and after 18:45 alone.
    problem = on_friday_and_saturday(on_trailer=False)
    sides = {key: row(problem, f"j1.{key}-as-she-lies") for key in SIDES}
    friday = [4 * DAY + 9 * 60, 4 * DAY + 17 * 60]
    shaded = {key: longest(side["windows"], friday) for key, side in sides.items()}
    assert shaded["starboard"] >= 75 > shaded["port"]
    plan = planned(problem, steps=600)
    assert faults(problem, plan) == []
    assert "j1.port-as-she-lies" in {left["stage"] for left in plan["unplaced"]}


def longest(windows, hours):
    return max((min(e, hours[1]) - max(s, hours[0]) for s, e in windows), default=0)
