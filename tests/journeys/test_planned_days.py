"""Hard days from the tables through the snapshot to the planner: teams, wet film, refits, lifts, tows, turns.

Minutes and hours named here are worked out by hand from the outfit's own rates and the demo's weather
[common practice for the rules, the outfit's own for the rates].
"""

import pytest

from dispatch.actions import book, weather
from dispatch.records.models import (
    CatalogueRow,
    Equipment,
    JobKind,
    Outfit,
    Person,
    Skill,
    Standing,
    Van,
)
from tests.actions import plans, shop
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

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.mark.parametrize(("team", "minutes"), [(2, 90), (3, 70), (4, 55), (6, 55)])
def test_more_hands_help_less_and_none_beyond_the_most_useful(team, minutes):
    # 20 ft of grade 2 to deoxidise are 180 labour-minutes: 90, 65.2 and 54.9 by two, three and four,
    # and no less by six; the snapshot rounds up to five minutes.
    place = plans.outfit()
    for key in ("winnie", "jonah", "pilar", "maeve"):
        plans.person(key, key.title(), key[:2].upper())
    Van.objects.update(seats=6)
    prep = CatalogueRow.objects.filter(kind__key="spray-coat", visit="prep")
    prep.exclude(name__startswith="Deoxidise").delete()
    plans.coat(place)
    problem = keep_stages(problem_of_the_week(), "j1.prep")
    problem["jobs"][0]["variants"] = []
    row(problem, "j1.prep")["needs"] = [{"skill": "prep", "level": 1, "count": team}]
    plan = planned(problem, steps=100)
    assert faults(problem, plan) == []
    vd, stop = visits(plan)["j1.prep"]
    rest = vd["break"] or [0, 0]
    within = stop["start"] <= rest[0] < stop["end"]
    assert len(vd["team"]) == team
    assert stop["end"] - stop["start"] - within * (rest[1] - rest[0]) == minutes


def test_numbers_go_back_on_when_the_film_has_cured_twenty_hours():
    # The last coat ends on Friday 11:00: 20 reference hours later it is Saturday 10:58.
    job = plans.coat(plans.outfit())
    Skill.objects.create(person=Person.objects.get(key="rook"), name="decals")
    Outfit.objects.update(stands_at=plans.at(28, "12:00"))
    coats = ("prep", "mask", "port", "starboard", "ends")
    done_by(job, plans.at(28, "11:00"), *coats)
    problem = keep_stages(problem_of_the_week(), "j1.letters")
    saturday = [s - 5 * DAY for s, _ in row(problem, "j1.letters")["windows"]]
    opens = min(minute for minute in saturday if minute >= 0)
    assert abs(opens - (10 * 60 + 58)) <= 10
    row(problem, "j1.letters")["drop_cents"] = 20000  # a day out for them alone pays
    plan = planned(problem, steps=100)
    assert faults(problem, plan) == []
    _, stop = visits(plan)["j1.letters"]
    assert stop["start"] >= 5 * DAY + opens
    assert told_at(problem, plan, 5 * DAY + 8 * 60) != ([], [])
    assert told_at(problem, plan, 5 * DAY + 11 * 60 + 5) == ([], [])


def told_at(problem, plan, start):
    """Return both judges' words on the only visit done from another minute on."""
    told = Told(problem, plan)
    [vd] = told.plan["van_days"]
    by = start - vd["stops"][0]["start"]
    for key in ("start", "end"):
        vd["stops"][0][key] += by
    vd["depart"], vd["back"], vd["break"] = vd["depart"] + by, vd["back"] + by, None
    return told.restated().verdicts()


def two_boats():
    """Return the problem of a coat under the canopy in one yard and a wash in another, for two people."""
    place = plans.outfit()
    canopy = Equipment.objects.create(
        key="loft",
        name="Loft",
        kind="canopy",
        towed=False,
        roof=True,
        take_minutes=25,
        set_minutes=35,
    )
    since = plans.at(22, "18:00")
    Standing.objects.create(equipment=canopy, place=place, since=since)
    coat = plans.coat(place)
    Outfit.objects.update(stands_at=plans.at(24, "05:00"))
    done_by(coat, plans.at(24, "04:55"), "prep", "mask")
    other = shop.driveway(
        key="s6", name="Quarry Lane", latitude=44.08, longitude=-69.195
    )
    wash = book.take_job(
        key="j2",
        boat=shop.boat(other, key="bread", name="Bread & Butter"),
        kind=JobKind.objects.get(key="wash"),
        unfinished_cents=90000,
    )
    weather.take_in(other)
    for stage in wash.stages.all():
        weather.judge(stage)
    return in_ways(problem_of_the_week(), {"j1": "roofed"})


def test_wet_film_holds_the_canopy_and_neither_the_people_nor_the_trailer():
    problem = two_boats()
    coats = [f"j1.{key}-roofed" for key in ("port", "starboard", "ends")]
    washes = [s["id"] for s in problem["stages"] if s["job"] == "j2"]
    keep_stages(problem, *coats, *washes)
    for stage in problem["stages"]:
        # All of it on Monday, the wash in the afternoon.
        late = 14 * 60 if stage["job"] == "j2" else 0
        stage["windows"] = [
            [max(s, late), e] for s, e in stage["windows"] if e <= DAY and e > late
        ]
    plan = planned(problem, steps=300)
    assert faults(problem, plan) == []
    assert plan["unplaced"] == []
    [vd] = plan["van_days"]
    assert (vd["day"], len(vd["team"])) == (0, 2)
    last = max(
        stop["end"] for _, (_, stop) in visits(plan).items() if stop["stage"] in coats
    )
    safe = last + lag(row(problem, coats[-1])["trailers"][-1]["stays_min"], last)
    washed = [stop for name, (_, stop) in visits(plan).items() if name in washes]
    assert last < washed[0]["start"] < safe
    assert moved(problem, plan, "the-shed", last) == ([], [])
    assert moved(problem, plan, "loft", safe) == ([], [])
    for sentences in moved(problem, plan, "loft", safe - 1):
        assert any("canopy" in sentence for sentence in sentences)


def lag(table, end):
    return next(minutes for first, last, minutes in table if first <= end < last)


def moved(problem, plan, trailer, start):
    """Return both judges' words on a thing taken to the other yard from a minute on, by a second van."""
    told = Told(problem, plan)
    thing = told.trailer[trailer]
    van = told.van["knot"] | {"id": "eider", "duty": [[0, 7 * DAY]] * 7}
    helper = told.person["rook"] | {"id": "dov", "duty": [[0, 7 * DAY]] * 7}
    told.problem["vans"].append(van)
    told.problem["people"].append(helper)
    to = next(p["id"] for p in problem["places"] if p["id"] != thing["place"])
    names = [place["id"] for place in problem["places"]]
    drive, back = (
        problem["drive_min"][names.index(a)][names.index(b)]
        for a, b in ((thing["place"], to), (to, van["base"]))
    )
    end = (
        start
        + thing["hook_min"]
        + -(-drive * thing["factor_pct"] // 100)
        + thing["unhook_min"]
    )
    tow = {"do": "tow", "trailer": trailer, "from": thing["place"], "to": to}
    day = {
        "van": "eider",
        "day": 0,
        "team": ["dov"],
        "depart": start,
        "back": end + back,
    }
    told.plan["van_days"].append(
        day | {"break": None, "stops": [tow | {"start": start, "end": end}]}
    )
    return told.restated().verdicts()
