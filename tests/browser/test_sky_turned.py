"""A newer forecast comes in: the owner asks for it, sees what it forbids, and so does who would drive there."""

from datetime import timedelta

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import planning, plugins, sweeping
from dispatch.records.models import Account, DueWork, Visit
from tests.actions import plans, posted
from tests.browser import looks
from tests.web import people

WEDNESDAY = posted.MONDAY + timedelta(days=2)
BUTTON = "Get forecasts now"
# Inside, masking as the rain comes, and polishing on the day after.
WEEK = [
    (26, "14:00", "17:30", [("j1.mask", "15:00", "16:15")]),
    (27, "09:30", "12:30", [("j1.inside", "10:00", "11:20")]),
]


@pytest.fixture
def week(transactional_db) -> str:
    """A posted week, the evening before its Wednesday, and a newer forecast that has not been asked for."""
    place = plans.outfit()
    plans.coat(place)
    owner = people.owner()
    planning.post(plans.draft(WEEK), by=owner)
    people.crew()
    posted.stand("19:00", WEDNESDAY - timedelta(days=1))
    options = plans.FORECAST | {
        "file": "weather_as_it_happened.csv",
        "issued_at": "2027-05-25T18:00:00-04:00",
    }
    plugins.enable("weather_file", options)
    # Her stages were judged as they were laid; what is left to do from here on is what the owner asks for.
    DueWork.objects.all().delete()
    return "/week/2027-05-24/"


def asked(page: Page, week: str) -> None:
    """The owner asks by keyboard; the worker then does what that left behind."""
    page.goto(week)
    page.get_by_role("button", name=BUTTON, exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.locator("#asked-sky")).to_contain_text("they wait for a worker")
    sweeping.sweep()
    # The page looks again by itself, and is loaded anew once they came.
    expect(page.locator(".notice")).to_contain_text("new for Marrow Road")


def test_the_owner_asks_and_sees_what_the_sky_forbids(page, sign_in, week):
    sign_in(page, Account.objects.get(role="owner"))
    page.goto(week)
    expect(page.locator(".board .doubt.cross:visible")).to_have_count(0)
    before = Visit.objects.get(stage__key="mask").start
    asked(page, week)
    expect(page.locator(".snag").first).to_contain_text(
        "the sky no longer allows it. Rain 0.18 in, chance 90 %"
    )
    expect(page.locator(".board .doubt.cross:visible")).to_have_count(1)
    expect(page.locator(".changes")).to_contain_text(
        "The sky forbids “Mask and drape” on Second Wind, Wed 15:00-16:15."
    )
    assert Visit.objects.get(stage__key="mask").start == before
    assert looks.serious(page) == []


def test_on_a_phone_it_is_told_in_words(phone, sign_in, week):
    sign_in(phone, Account.objects.get(role="owner"))
    asked(phone, week)
    expect(phone.locator(".block")).to_contain_text("The sky no longer allows it")
    expect(phone.locator(".block .beside.trouble").first).to_be_visible()
    assert looks.wider_than_the_screen(phone) == 0
    assert looks.small_targets(phone, ".week-buttons") == []


def test_who_would_drive_there_reads_it_on_the_route(phone, sign_in, page, week):
    sign_in(page, Account.objects.get(role="owner"))
    asked(page, week)
    sign_in(phone, Account.objects.get(username="rook"))
    phone.goto(f"/route/?day={WEDNESDAY}")
    knot = phone.locator(".knot.next")
    expect(knot).to_contain_text(
        "The sky no longer allows this visit: Rain 0.18 in, chance 90 %"
    )
    expect(knot).to_contain_text("It has not been moved; ask the owner.")
    expect(knot).not_to_contain_text("GO now")
    assert looks.wider_than_the_screen(phone) == 0
