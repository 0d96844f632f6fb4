"""The gust at which a roof must be down: set and refused on its page, in the outfit's unit; the work under it is judged anew."""

import pytest

from dispatch.records.models import (
    DueWork,
    Equipment,
    HistoryEntry,
    Outfit,
    Stage,
    Standing,
)
from dispatch.trade.units import mph_to_ms
from tests.actions import laid, plans
from tests.web import people
from tests.web.owner.test_book import fields

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
PAGE = "/wheels/gear/loft/"


@pytest.fixture
def loft():
    return roof()


@laid.from_memory
def roof() -> Equipment:
    """A roof whose gust nobody told, at the place of a boat that can be coated under it."""
    place = plans.outfit()
    row = Equipment.objects.create(
        key="loft", name="Loft", kind="canopy", towed=False, roof=True
    )
    Standing.objects.create(equipment=row, place=place, since=plans.at(22, "18:00"))
    plans.coat(place)
    return row


def send(client, loft, gust: str) -> str:
    client.force_login(people.owner())
    sent = fields(client.get(PAGE)) | {"down_gust_ms": gust}
    page = client.post(PAGE, sent, follow=True).text
    loft.refresh_from_db()
    return page


def test_it_is_set_in_miles_an_hour_and_kept_in_si(client, loft):
    page = send(client, loft, "22")
    assert loft.down_gust_ms == pytest.approx(mph_to_ms(22))
    assert 'value="22"' in page
    (said,) = HistoryEntry.objects.filter(verb="set-gear")
    assert (
        said.sentence
        == "Loft: “Gust at which a roof must be down” now 22 mph (was not set)."
    )


def test_metric_outfits_read_and_set_metres_a_second(client, loft):
    Outfit.objects.update(units="metric")
    assert 'value="9.8"' in send(client, loft, "9.8")
    assert loft.down_gust_ms == pytest.approx(9.8)


def test_it_may_be_left_empty_again(client, loft):
    Equipment.objects.update(down_gust_ms=9.83488)
    client.force_login(people.owner())
    sent = fields(client.get(PAGE)) | {"down_gust_ms": ""}
    client.post(PAGE, sent)
    loft.refresh_from_db()
    assert loft.down_gust_ms is None


@pytest.mark.parametrize("gust", ["0", "91", "strong"])
def test_what_no_roof_can_have_is_refused_with_what_it_can(client, loft, gust):
    assert "Give a number from 5 to 90 mph." in send(client, loft, gust)
    assert loft.down_gust_ms is None


def test_the_work_under_a_roof_is_judged_anew_and_no_other(client, loft):
    DueWork.objects.all().delete()
    send(client, loft, "22")
    due = set(DueWork.objects.filter(verb="judge-stage").values_list("key", flat=True))
    roofed = Stage.objects.filter(cover="roof").values_list("pk", flat=True)
    assert due == {str(pk) for pk in roofed}
    assert due


def test_the_list_says_at_which_gust_a_roof_comes_down_and_that_it_is_not_known(
    client, loft
):
    client.force_login(people.owner())
    assert "a roof, its gust not known" in client.get("/wheels/").text
    Equipment.objects.update(down_gust_ms=mph_to_ms(22))
    told = client.get("/wheels/").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "a roof, down by a gust of 22 mph" in told


def test_what_belongs_together_stands_together(client, loft):
    client.force_login(people.owner())
    page = client.get(PAGE).text
    assert page.index("<legend>What it keeps off") < page.index('name="roof"')
    assert page.index('name="roof"') < page.index('name="down_gust_ms"')
    assert page.index('name="active"') < page.index("<legend>What it keeps off")
