"""The owner asks what holds a visit and moves it in a draft: at a desk, on a phone, by keyboard alone."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.browser.looks import amiss, serious_in_any_light
from tests.web import people

pytestmark = pytest.mark.timeout(120)
PAGE = "/week/why/j1.wash/moves/"
LONGEST_MS = 30_000


@pytest.fixture
def washed(transactional_db):
    plans.wash(plans.outfit())
    return placed()


@pytest.fixture
def owner(transactional_db):
    return people.owner()


@pytest.mark.parametrize("width", [1280, 390])
def test_it_is_priced_and_moved(new_page, sign_in, washed, owner, width):
    page = new_page(width=width, height=900)
    sign_in(page, owner)
    page.goto("/week/why/j1.wash/")
    page.get_by_role("link", name="What holds it there").click()
    assert serious_in_any_light(page) == []
    page.get_by_role("button", name="Price every day").click()
    move = page.get_by_role("button", name="Move it to Wednesday in a draft")
    expect(move).to_be_visible(timeout=LONGEST_MS)
    assert amiss(page, within=".days") == []
    move.click()
    expect(page.get_by_text("This draft has it on Wednesday.")).to_be_visible()
    assert WeekPlan.objects.count() == 2


def test_it_is_done_by_keyboard_alone(page: Page, sign_in, washed, owner):
    sign_in(page, owner)
    page.goto(PAGE)
    press(page, "Price every day")
    move = page.get_by_role("button", name="Move it to Wednesday in a draft")
    expect(move).to_be_visible(timeout=LONGEST_MS)
    press(page, "Move it to Wednesday")
    expect(page.get_by_text("This draft has it on Wednesday.")).to_be_visible()


def press(page: Page, name: str) -> None:
    """Tab on until what has the focus is called so, and see that the focus shows; then press Enter."""
    for _ in range(80):
        page.keyboard.press("Tab")
        said, seen = page.evaluate(
            "() => { const e = document.activeElement;"
            " return [e.textContent, getComputedStyle(e).outlineStyle] }"
        )
        if said.strip().startswith(name):
            assert seen != "none"
            page.keyboard.press("Enter")
            return
    raise AssertionError(f"The keyboard never reaches {name}.")
