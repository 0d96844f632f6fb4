"""The page of a place's sky in a real browser: on a phone, by keyboard, in both lights."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Forecast, Outfit
from tests.actions import plans, posted, shop
from tests.browser import looks
from tests.web import people


@pytest.fixture
def place(transactional_db):
    shop.outfit()
    Outfit.objects.update(stands_at=plans.at(25, "07:30"))
    found = shop.driveway()
    posted.warm(found, issued=plans.at(24, "17:00"), hours=48)
    return found


@pytest.fixture
def small(phone: Page, sign_in, place) -> Page:
    sign_in(phone, people.owner())
    phone.goto("/places/s5/sky/")
    return phone


def test_on_a_phone_it_is_read_and_tapped_without_moving_the_page(small):
    assert looks.amiss(small) == []
    hours = small.locator(".sky-hours")
    assert hours.locator("tbody tr:not(:has(.day))").count() >= 24
    box = hours.bounding_box()
    assert box["x"] + box["width"] <= 390


def test_a_sky_by_keyboard_alone(page: Page, sign_in, place):
    sign_in(page, people.owner())
    page.goto("/places/s5/sky/")
    page.get_by_label("Gusts, mph").focus()
    page.keyboard.type("9")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("main")).to_contain_text("Entered by hand by")
    assert Forecast.objects.filter(source="by hand").exists()
