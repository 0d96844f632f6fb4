"""Shade and turning through the calls the boat's page and the route use.

The moments were worked out by a script that shares no code with the house, whose sun agreed with the astral library
within 0.006 degrees; sides lean out by 12 degrees (an assumption), bow panels included; tolerance 10 minutes.
"""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.actions import show_hull, sun_facts, turns, visit_sky
from dispatch.records.models import Outfit, Place, Stage
from dispatch.trade.spans import Span, intersect
from tests.actions import plans, shop
from tests.journeys import skies

pytestmark = pytest.mark.django_db

SHOP = (44.10, -69.10, "America/New_York")
CHRISTCHURCH = (-43.53, 172.63, "Pacific/Auckland")
# What flash and levelling take at 55 F, the least of the sheet: 25 min at 70 F, 44.5 there.
TAIL = 45
DAYLIGHT = ("06:00", "20:30")


def shades(where, heading: float, day: str, side: str) -> list[tuple[str, str]]:
    """A side's shade of a day between 06:00 and 20:30, as the boat's page has it, in the place's clock."""
    shop.outfit()
    lat, lon, name = where
    zone = ZoneInfo(name)
    place = shop.driveway(latitude=lat, longitude=lon, time_zone=name)
    boat = shop.boat(place, heading_deg=heading)
    dawn, dusk = (
        datetime.fromisoformat(f"{day}T{clock}").replace(tzinfo=zone)
        for clock in DAYLIGHT
    )
    found = show_hull.of(boat, dawn).days[0].shade[side]
    return [
        (f"{one.start.astimezone(zone):%H:%M}", f"{one.end.astimezone(zone):%H:%M}")
        for one in intersect(found, [Span(dawn, dusk)])
    ]


def minutes(clock: str) -> int:
    hour, minute = clock.split(":")
    return int(hour) * 60 + int(minute)


def has(found: list[tuple[str, str]], wanted: str) -> bool:
    """Whether spans of ``-13:25, 19:00-`` are among those found; an open end is that of the daylight."""
    spans = [one.strip().split("-") for one in wanted.split(",")]
    told = [(start or DAYLIGHT[0], end or DAYLIGHT[1]) for start, end in spans]
    return all(
        any(
            all(
                abs(minutes(a) - minutes(b)) <= 10
                for a, b in zip(one, span, strict=True)
            )
            for one in found
        )
        for span in told
    )


@pytest.mark.parametrize(
    ("where", "heading", "day", "side", "wanted"),
    [
        (SHOP, 0, "2027-05-26", "port", "-13:25"),
        (SHOP, 0, "2027-05-26", "starboard", "11:50-"),
        (SHOP, 0, "2027-05-26", "transom", "-09:10, 16:05-"),
        (SHOP, 90, "2027-05-26", "port", "09:20-17:35"),
        (SHOP, 90, "2027-05-26", "starboard", "16:05-"),
        (SHOP, 90, "2027-05-26", "transom", "-13:25"),
        (SHOP, 180, "2027-05-26", "transom", "07:35-17:35"),
        (SHOP, 225, "2027-05-26", "port", "14:10-"),
        (SHOP, 270, "2027-05-26", "starboard", "07:35-15:50"),
        (SHOP, 315, "2027-05-26", "starboard", "10:20-19:15"),
        (SHOP, 45, "2027-09-15", "port", "-15:20"),
        (SHOP, 90, "2027-09-15", "port", "08:35-18:25"),
        (SHOP, 135, "2027-09-15", "starboard", "-09:10"),
        (SHOP, 0, "2027-10-20", "port", "-12:50"),
        (SHOP, 180, "2027-10-20", "starboard", "-11:25"),
        (CHRISTCHURCH, 90, "2027-01-15", "port", "17:05-"),
        (CHRISTCHURCH, 90, "2027-01-15", "starboard", "10:25-18:40"),
    ],
)
def test_the_boats_page_has_each_sides_shade(where, heading, day, side, wanted):
    found = shades(where, heading, day, side)
    assert has(found, wanted), found


def sprayed(heading: float, *, feet: float = 20, **place: object):
    """A boat that is to be sprayed at a place of one's own, under a calm clear sky."""
    stage = skies.spray()
    lies = {"latitude": SHOP[0], "longitude": SHOP[1]} | place
    Place.objects.update(**lies)
    found = Stage.objects.filter(job=stage.job)
    found.update(heading_true_deg=heading)
    type(stage.job.boat).objects.update(heading_deg=heading, length_m=feet * 0.3048)
    return Stage.objects.get(pk=stage.pk)


def test_a_lit_bow_panel_refuses_a_side_whose_main_panel_is_shaded():
    """Heading 090, 26 May: her starboard bow is lit until 16:05, so 07:30 to 09:00 is refused."""
    sprayed(90)
    starboard = Stage.objects.get(key="starboard-as-she-lies")
    asked = {"panels": ["starboard"], "heading_true_deg": 90}
    Outfit.objects.update(stands_at=plans.at(26, "05:00"))
    starboard.job.boat.place.forecasts.all().delete()
    skies.calm_hours(
        starboard.job.boat.place, plans.at(26, "05:00"), cloud_pct=10, from_deg=180
    )
    early = skies.says(starboard, plans.at(26, "07:30"), plans.at(26, "09:00"), **asked)
    assert early.word == visit_sky.FORBIDS
    assert "sun" in early.why.lower()
    later = skies.says(starboard, plans.at(26, "16:55"), plans.at(26, "18:15"), **asked)
    assert later.word == visit_sky.ALLOWS, later.why


def test_the_last_start_of_a_coat_leaves_its_whole_slot_in_shade():
    """A 22 ft port that heads 010 on 24 May loses shade at 13:40; a slot of 103 min must begin by 11:56."""
    stage = sprayed(10, feet=22, latitude=44.1045, longitude=-69.1040)
    Stage.objects.filter(pk=stage.pk).update(panels=["port"])
    visit = skies.visit(Stage.objects.get(pk=stage.pk), 24, "08:00", 103 - TAIL)
    found = sun_facts.of(visit, plans.at(24, "08:00"), 10)
    assert found.slot_minutes == 103
    assert abs(found.start_by - plans.at(24, "11:56")) <= timedelta(minutes=10)


def test_by_the_houses_own_minutes_it_begins_a_little_sooner_never_later():
    """The same slot is 103 min at 62 F: a coat of 17.6 min twice, flash and levelling of 34 min each.

    The house plans days ahead, by the coldest that her hull may be while she may be sprayed: at 55 F, the sheet's
    least, flash and levelling take 45 min each. So it begins sooner.
    """
    stage = sprayed(10, feet=22, latitude=44.1045, longitude=-69.1040)
    Stage.objects.filter(pk=stage.pk).update(panels=["port"])
    stage = Stage.objects.get(pk=stage.pk)
    minutes = stage.minutes["2"] + TAIL
    assert minutes + TAIL > 103
    visit = skies.visit(stage, 24, "08:00", minutes)
    found = sun_facts.of(visit, plans.at(24, "08:00"), 10)
    assert plans.at(24, "11:15") <= found.start_by <= plans.at(24, "11:56")


def test_in_september_an_east_heading_wants_a_turn_or_a_canopy():
    """Starboard has shade from 18:15 only; turned to about north port has until 13:10, starboard from 12:00."""
    shop.outfit()
    shop.catalogue()
    place = shop.driveway(latitude=SHOP[0], longitude=SHOP[1], swing_room_m=20)
    plans.Equipment.objects.create(
        key="loft", name="Loft", kind="loft", towed=False, roof=True
    )
    boat = shop.boat(place, heading_deg=90, on_trailer=True)
    kind = plans.JobKind.objects.get(key="spray-coat")
    job = plans.book.take_job(key="j1", boat=boat, kind=kind, sheet=shop.one_part())
    day = datetime(2027, 9, 15, tzinfo=ZoneInfo(SHOP[2]))
    turn = turns.of(job, Span(day, day + timedelta(days=1)))
    assert turn.worth
    assert (turn.lying.worth[0], turn.turned.worth[0]) == (0, 1)
    off_north = abs((turn.turned.heading_true_deg + 90) % 180 - 90)
    assert off_north <= 45
    assert "roofed" in set(job.stages.values_list("variant", flat=True))
