"""Nothing is sprayed within 50 ft of open water: common practice of clean marinas, a wall."""

import pytest

from dispatch.actions import book, cautions, places, visit_sky, windows
from dispatch.actions.errors import Refused
from dispatch.records.models import JobKind, Outfit, Place, Stage
from dispatch.trade.spans import Span
from dispatch.trade.units import ft_to_m
from dispatch.trade.words import Words
from tests.actions import plans, posted, shop

pytestmark = pytest.mark.django_db


def lies(feet):
    Place.objects.update(water_off_m=None if feet is None else ft_to_m(feet))


def test_a_spray_job_is_refused_with_both_distances(db):
    shop.outfit()
    shop.catalogue()
    place = shop.driveway(water_off_m=ft_to_m(30))
    kind = JobKind.objects.get(key="spray-coat")
    with pytest.raises(
        Refused, match=r"Open water lies 30 ft from the boats at .* within 50 ft of it"
    ):
        book.take_job(key="j1", boat=shop.boat(place), kind=kind, sheet=shop.one_part())


@pytest.mark.parametrize(("feet", "shut"), [(49, True), (50, False), (None, False)])
def test_what_is_in_the_book_has_no_hours_once_the_water_is_near(feet, shut):
    job = plans.coat(plans.outfit())
    lies(feet)
    port = Stage.objects.get(job=job, key="port-as-she-lies")
    day = Span(plans.at(25, "09:00"), plans.at(25, "17:00"))
    assert bool(windows.of(port, day)) is not shut
    says = visit_sky.of(
        port, Span(plans.at(25, "13:00"), plans.at(25, "14:00")), plans.at(24, "06:00")
    )
    assert ("open water lies" in says.why.lower()) is shut
    mask = Stage.objects.get(job=job, key="mask")
    assert windows.of(mask, day)


@pytest.mark.parametrize(("feet", "said"), [(None, True), (200, False)])
def test_where_nobody_entered_it_the_crew_is_told_to_look(feet, said):
    job = posted.sprayed()
    lies(feet)
    day = posted.van_day(posted.person("rook"))
    visit = posted.visit(day, job.stages.get(key="port"), "11:00")
    visit.stage.job.boat.place.refresh_from_db()
    told = " ".join(cautions.of([visit], [], Words()))
    assert ("nobody entered how far open water lies" in told) is said


def test_the_owner_enters_it_in_the_outfits_unit_and_not_below_nought(db):
    shop.outfit()
    place = shop.driveway()
    owner = plans.owner()
    places.change(place, {"water_off_m": 20.0}, by=owner)
    place.refresh_from_db()
    assert place.water_off_m == 20
    with pytest.raises(Refused):
        places.change(place, {"water_off_m": -1}, by=owner)
    assert Outfit.objects.get().units == "us"
