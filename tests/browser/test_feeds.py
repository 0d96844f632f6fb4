"""A crew member makes the address of their calendar on a phone, copies it, and a calendar reads it."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import feeds, plugins
from dispatch.records.models import Account, Feed, Visit
from tests.actions import posted
from tests.browser import looks

pytestmark = pytest.mark.timeout(120)
PAGE = "/route/calendar/"
LONGEST_MS = 15_000


@pytest.fixture
def rook(transactional_db):
    job = posted.sprayed()
    posted.stand("06:00")
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)
    Visit.objects.update(sky_says="allows")
    plugins.enable("calendar_feed", {})
    return Account.objects.get(person__key="rook")


def test_an_address_is_made_from_the_route_and_read_without_signing_in(
    phone: Page, new_page, sign_in, rook
):
    sign_in(phone, rook)
    phone.goto("/route/")
    phone.get_by_role("link", name="Your visits in your own calendar").tap()
    phone.get_by_role("button", name="Make an address").tap()
    field = phone.get_by_label("Address", exact=True)
    expect(field).to_be_visible(timeout=LONGEST_MS)
    feeds.write_all()
    answer = new_page().request.get(field.input_value())
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    assert "SUMMARY:Second Wind" in answer.text()


@pytest.mark.parametrize("width", [1440, 390])
def test_the_page_fits_and_nothing_serious_stands_in_the_way(
    new_page, sign_in, rook, width
):
    feeds.open_anew(rook.person, "calendar_feed", by=rook)
    feeds.write_all()
    assert Feed.objects.get().written_at
    page = new_page(width=width)
    sign_in(page, rook)
    page.goto(PAGE)
    assert looks.amiss(page) == []
