"""A person's day as the van drives it."""

from datetime import timedelta

import pytest

from dispatch.actions import show_route
from dispatch.planner import travel
from dispatch.records.models import Equipment, Place, Stage, Tow, WeekPlan
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    return posted.person("rook", "hose", "prep")


@pytest.fixture
def day(rook):
    made = posted.van_day(rook, posted.person("teague", "spray-1", "hose"))
    for key, start in (("mask", "10:00"), ("prep", "07:30"), ("port", "11:30")):
        posted.visit(made, Stage.objects.get(key=key), start)
    posted.stand("06:50")
    return made


def route(person):
    return show_route.route(person, posted.MONDAY)


def test_stops_come_in_the_order_they_are_driven(rook, day):
    found = route(rook)
    assert [stop.visit.stage_name for stop in found.stops] == [
        "Wash, strip, deoxidise, scuff",
        "Mask and drape",
        "Spray port, two coats",
    ]
    assert (found.van, found.team) == ("Knot", ("Rook", "Teague"))


def test_times_are_the_places_own(rook, day):
    found = route(rook)
    assert f"{found.depart:%H:%M}" == "07:00"
    assert f"{found.stops[0].start:%H:%M}" == "07:30"


def test_the_drive_is_told_once_and_back_again(rook, day):
    """Great circle between the two points, by road and at the outfit's speed, as the planner has it."""
    shop, yard = Place.objects.get(key="s0"), posted.boat().place
    minutes, _ = travel.drive(
        shop.latitude, shop.longitude, yard.latitude, yard.longitude, travel.Roads()
    )
    found = route(rook)
    assert [stop.drive_minutes for stop in found.stops] == [minutes, 0, 0]
    assert found.back_minutes == minutes


def test_a_tow_is_a_stop_at_the_place_it_goes_to(rook, day):
    rig = Equipment.objects.create(
        key="shed", name="The Shed", kind="trailer", towed=True, weight_kg=1270
    )
    shop, yard = Place.objects.get(key="s0"), posted.boat().place
    Tow.objects.create(
        van_day=day,
        equipment=rig,
        origin=shop,
        destination=yard,
        start=posted.at("07:00"),
        end=posted.at("07:28"),
    )
    first = route(rook).stops[0]
    assert (first.tow.equipment, first.place.name, first.drive_minutes) == (
        "The Shed",
        "Marrow Road",
        0,
    )
    assert first.tow.weight == "2,800 lb"


def test_who_may_hold_the_gun_is_named_and_who_may_not_is_not(rook, day):
    hands = route(rook).stops[2].visit.hands
    assert "On the gun: Teague" in hands
    assert "On the hose: Rook, Teague" in hands


def test_nobody_for_the_gun_calls_the_owner(rook, day):
    day.team.set([rook])
    assert "On the gun: nobody of the team: call the owner" in (
        route(rook).stops[2].visit.hands
    )


def test_the_sky_is_told_in_numbers_or_as_not_known(rook, day):
    """Gusts of 3 m/s (6.7 mph) in a driveway that lets 0.55 of the wind in."""
    card = route(rook).stops[0].visit
    assert "air 70 °F, dew point 46 °F, gusts 4 mph, chance of rain 5 %" in card.sky
    posted.boat().place.forecasts.all().delete()
    assert "not known" in route(rook).stops[0].visit.sky


def test_every_visit_that_is_not_done_has_its_word(rook, day):
    assert {stop.visit.ready.word for stop in route(rook).stops} == {"WAIT"}
    Stage.objects.filter(key="prep").update(state="done", ended_at=posted.at("06:45"))
    assert route(rook).stops[0].visit.ready is None


def test_a_heading_nobody_read_is_said_to_be_unknown(rook, day):
    boat = posted.boat()
    boat.heading_deg = None
    boat.save()
    Stage.objects.update(heading_true_deg=None)
    card = route(rook).stops[0].visit
    assert card.sun is None
    assert "Nobody entered which way she heads" in card.sun_unknown


def test_a_stranger_to_the_van_has_no_route(day):
    assert route(posted.person("winnie")) is None


def test_a_draft_is_no_route(rook, day):
    WeekPlan.objects.update(state="draft")
    assert route(rook) is None


def test_the_next_day_of_riding_is_found(rook, day):
    assert show_route.next_day(rook, posted.MONDAY - timedelta(days=3)) == posted.MONDAY
    assert show_route.next_day(rook, posted.MONDAY) is None
