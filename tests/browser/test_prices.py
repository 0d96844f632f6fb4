"""What a plugin asks for a job stands on her estimate, on a phone and by keyboard; agreeing it is one press."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import plugin_setting, sweeping
from dispatch.records.models import Account, Job
from tests.actions import plans
from tests.browser import looks
from tests.web import people

JOB = "/jobs/j1/"


@pytest.fixture
def owner(transactional_db) -> Account:
    plans.coat(plans.outfit(), price_cents=136_000)
    owner = people.owner()
    given = {"months": "5 15", "returning_pct": 5.0}
    plugin_setting.turn_on("price_by_season", given, by=owner)
    return owner


def test_on_a_phone_it_fits_told_or_not(phone: Page, sign_in, owner):
    sign_in(phone, owner)
    phone.goto(JOB)
    expect(phone.get_by_role("main")).to_contain_text(
        "So this is the catalogue's price"
    )
    assert looks.wider_than_the_screen(phone) == 0
    sweeping.sweep()
    phone.reload()
    expect(
        phone.get_by_role("heading", name="Price by season asks $1,564")
    ).to_be_visible()
    assert looks.wider_than_the_screen(phone) == 0
    assert looks.serious_in_any_light(phone) == []


def test_it_is_agreed_by_keyboard(page: Page, sign_in, owner):
    sweeping.sweep()
    sign_in(page, owner)
    page.goto(JOB)
    page.get_by_role("button", name="Agree $1,564").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("main")).to_contain_text("Agreed is $1,564 now.")
    expect(page.get_by_role("button", name="Agree")).to_have_count(0)
    assert Job.objects.get().price_cents == 156_400
