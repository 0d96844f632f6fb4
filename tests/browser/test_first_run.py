"""The first run in a real browser: an empty house made somebody's on a phone, and the first step taken."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import first_run
from dispatch.records.models import Outfit, Place
from tests.browser import looks
from tests.web import people


@pytest.fixture
def small(phone: Page, transactional_db) -> Page:
    return phone


def make_mine(page: Page) -> None:
    page.goto("/")
    page.locator("#word").fill(first_run.word())
    page.get_by_role("button", name="Go on").click()
    page.get_by_label("The outfit's name").fill("Tarrow & Daughter")
    page.get_by_label("Town").fill("Pell Harbor")
    page.get_by_label("Time zone").fill("America/New_York")
    page.get_by_label("Your name").fill("Orla Tarrow")
    page.get_by_label("Your initials").fill("OT")
    page.get_by_label("The name you sign in with").fill("orla")
    page.locator("#password").fill(people.PASSWORD)
    page.locator("#again").fill(people.PASSWORD)
    page.get_by_role("button", name="Make it mine").click()


def test_the_first_page_is_for_everybody_and_fits_a_phone(small):
    small.goto("/")
    expect(small.get_by_role("heading", level=1)).to_have_text("Begin")
    assert looks.amiss(small) == []


def test_from_an_empty_house_to_the_first_step_and_back(small):
    make_mine(small)
    expect(small.get_by_role("heading", level=1)).to_have_text("To a first week")
    assert looks.wider_than_the_screen(small) == 0
    assert looks.serious(small) == []
    assert Outfit.objects.get().name == "Tarrow & Daughter"
    small.get_by_role("link", name="Go on: the base").tap()
    small.get_by_label("Name", exact=True).fill("Shop")
    small.get_by_label("Latitude").fill("44.0935")
    small.get_by_label("Longitude").fill("-69.124")
    small.get_by_role("button", name="Add the place").tap()
    expect(small.get_by_role("link", name="Go on: people on duty")).to_be_visible()
    assert Place.objects.get().is_base


def test_the_first_run_by_keyboard_alone(page):
    page.goto(f"/start/?word={first_run.word()}")
    page.get_by_label("The outfit's name").focus()
    for words in ("Tarrow & Daughter", "Pell Harbor", "America/New_York"):
        page.keyboard.type(words)
        page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    for words in ("Orla Tarrow", "OT", "orla", people.PASSWORD, people.PASSWORD):
        page.keyboard.type(words)
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("To a first week")
