"""A place on a day, in sentences."""

import pytest

from dispatch.actions import place_card
from dispatch.records.models import Closure
from dispatch.trade.words import Words
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db
CAR = {"what": "Car", "bearing_deg": 45, "distance_m": 6.7056, "sheeted": False}


def card(place, system="us"):
    return place_card.of(place, posted.MONDAY, Words(system=system))


def test_neighbours_come_with_distance_and_bearing_in_the_outfits_units():
    place = shop.driveway(neighbours=[CAR])
    assert card(place).neighbours == (
        "Car: 22 ft to the north-east (45°), not sheeted",
    )
    assert card(place, "metric").neighbours[0].startswith("Car: 6.7 m")


def test_hours_are_those_of_the_weekday():
    place = shop.driveway()
    assert card(place).hours == ("07:30 to 19:00",)
    place.access_hours.filter(weekday=0).delete()
    assert card(place).hours == ()


def test_what_shuts_it_that_day_is_cut_to_the_day():
    place = shop.driveway()
    Closure.objects.create(
        place=place,
        kind="shut",
        start=shop.NOW,
        end=posted.at("09:00"),
        reason="Paving",
    )
    assert card(place).shut == ("Shut to contractors 00:00 to 09:00: Paving",)


def test_water_and_power_that_are_missing_are_to_be_brought():
    place = shop.driveway(water=False, power=False)
    assert card(place).supplies == (
        "No water: bring it",
        "No power: bring the generator",
    )


def test_the_yards_rule_on_spraying_is_told():
    place = shop.driveway(spray_rule="screens", two_part_allowed=False)
    said = card(place).spraying
    assert "side-screens only" in said
    assert "no two-part" in said
