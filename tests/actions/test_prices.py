"""What the catalogue asks for a job, checked by hand: the study's own sums, and one thing changed at a time."""

import pytest

from dispatch.actions import prices, settings
from dispatch.records.models import JobKind, Outfit, Place
from tests.actions import shop
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def boat():
    shop.outfit()
    shop.catalogue()
    return shop.boat(shop.driveway())


def price(boat, key="spray-coat", *, grade=2, **repairs):
    kind = JobKind.objects.get(key=key)
    return prices.listed(kind, boat, grade=grade, repairs=repairs)


def said(found):
    return [(line.words, line.cents // 100) for line in found.lines]


def test_twenty_feet_at_sixty_eight_dollars(boat):
    """The study's first boat: 20 ft, grade 2, value $1,360."""
    assert said(price(boat)) == [("$68 a foot for 20 ft", 1360)]


def test_three_medium_repairs_and_a_large_one(boat):
    """The study's repair job: three medium, one large, value $940 with $200 for coming."""
    found = price(boat, "gelcoat-repair", M=3, L=1)
    assert said(found) == [
        ("Flat", 200),
        ("3 medium repairs", 480),
        ("1 large repair", 260),
    ]
    assert found.cents == 94_000


def test_a_worn_hull_and_a_hard_shape_cost_more(boat):
    boat.shape = "cabin"
    shaped = prices.rates.labour_rates().shapes["cabin"]
    (line,) = price(boat, grade=4).lines
    assert line.cents == round(1360 * 1.4 * shaped) * 100
    assert line.words.startswith("$68 a foot for 20 ft, 1.4 times for grade 4, ")


def test_the_drive_is_priced_beyond_what_is_free(boat):
    """A degree of latitude is 111.2 km on a sphere of 6,371 km; by road 1.35 times that [assumption]."""
    Place.objects.update(is_base=False)
    south = boat.place.latitude - 0.5
    shop.driveway(key="base", name="Base", latitude=south, is_base=True)
    far, free = 111.195 / 2 * 1.35, 15 * 1.609344
    line = price(boat).lines[-1]
    assert (
        line.words
        == f"{(far - free) / 1.609344:.0f} miles of drive beyond what is free"
    )
    assert line.cents == pytest.approx((far - free) * 125, abs=100)


def test_metric_outfits_read_metres(boat):
    Outfit.objects.update(units="metric")
    assert price(boat).lines[0].words == "$223.10 a metre for 6.1 m"


def test_what_has_no_price_costs_nothing_whatever_is_to_be_put_right(boat):
    assert price(boat, "correction", S=2).cents == 0


def test_the_owners_own_prices_count(boat):
    change = {"prices.grade_3": 2.0, "prices.repair_small_cents": 5000.0}
    settings.change_all(change, by=people.owner())
    assert [line.cents for line in price(boat, grade=3, S=1).lines] == [272_000, 5000]
