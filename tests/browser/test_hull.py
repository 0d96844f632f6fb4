"""A boat's page and her job's estimate in a real browser: on a desk, on a phone, by keyboard."""

import pytest
from playwright.sync_api import expect

from dispatch.records.models import Boat
from tests.actions.test_turns import skiff
from tests.browser import looks
from tests.web import people

ADDRESSES = ["/boats/second-wind/", "/jobs/j1/"]


@pytest.fixture
def owner(transactional_db):
    skiff()
    return people.owner()


def opened(page, sign_in, owner, address):
    sign_in(page, owner)
    page.goto(address)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    return page


@pytest.mark.parametrize("address", ADDRESSES)
def test_they_are_read_on_a_phone_without_moving_sideways(
    phone, sign_in, owner, address
):
    shown = opened(phone, sign_in, owner, address)
    assert looks.wider_than_the_screen(shown) == 0
    assert looks.small_targets(shown, "#main") == []


@pytest.mark.parametrize("address", ADDRESSES)
def test_nothing_serious_stands_in_the_way(page, sign_in, owner, address):
    shown = opened(page, sign_in, owner, address)
    assert looks.serious_in_any_light(shown) == []


def test_the_dial_and_the_hairlines_say_the_same_in_words(page, sign_in, owner):
    opened(page, sign_in, owner, ADDRESSES[0])
    dial = page.locator("svg.dial")
    assert "heads 265° true" in dial.get_attribute("aria-label")
    drawn = page.locator("svg.shade-sheet").first
    words = page.locator("#today ~ ul li").all_inner_texts()
    assert len(words) == 3
    for line in words:
        assert line in drawn.get_attribute("aria-label")
    assert drawn.locator("line.shade-hair").count() >= 5


def test_another_hour_by_keyboard_alone(page, sign_in, owner):
    opened(page, sign_in, owner, ADDRESSES[0])
    page.get_by_label("At", exact=True).focus()
    page.get_by_label("At", exact=True).fill("10:00")
    page.keyboard.press("Enter")
    expect(page.locator("#sun")).to_contain_text("Sun at 10:00")


def test_her_numbers_are_stored_and_doubted_on_a_phone(phone, sign_in, owner):
    opened(phone, sign_in, owner, ADDRESSES[0])
    phone.get_by_label("Hull identification number").fill("abc12345m787")
    phone.get_by_role("button", name="Store her numbers").tap()
    expect(phone.locator(".notice.error")).to_contain_text("has not the form")
    assert Boat.objects.get().hull_number == "ABC12345M787"


def test_from_the_boat_to_what_she_takes_and_back(page, sign_in, owner):
    opened(page, sign_in, owner, ADDRESSES[0])
    page.get_by_role("link", name="what it takes and costs").click()
    expect(page.locator("h1")).to_contain_text("full spray coat")
    page.get_by_role("link", name="sun, shade, numbers").click()
    expect(page.locator("#turn-j1")).to_have_text("Turn her?")
