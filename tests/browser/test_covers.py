"""Who of the crew is told when wet film must be covered, in a real browser: agreed by keys, read and answered by finger."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Account, Cover, Notice, Person
from tests.browser import looks
from tests.journeys.test_hull_and_yard import covered, rained_on, roof
from tests.notices.test_crew import ROOK, agreed
from tests.web import people

__all__ = ["agreed", "covered", "rained_on", "roof"]


@pytest.fixture
def rainy(transactional_db, rained_on):
    return rained_on


@pytest.fixture
def asked(rainy, agreed, covered):
    """A roof is asked for over her, and Rook, who is out with the van, is told."""
    return covered


def test_somebody_of_the_crew_agrees_by_keys_alone(page: Page, sign_in, rainy):
    sign_in(page, people.owner())
    page.goto("/people/rook/")
    page.get_by_label("Phone").focus()
    page.keyboard.type(ROOK)
    tick = page.get_by_label("Agreed to texts when wet film must be covered")
    tick.focus()
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    page.get_by_label("Reason").focus()
    page.keyboard.type("Asked today")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_be_visible()
    assert looks.amiss(page, within="form .cell:not(:has([type=checkbox]))") == []
    rook = Person.objects.get(key="rook")
    assert (rook.phone, rook.text_consent, rook.email_consent) == (ROOK, True, False)


def test_the_owner_reads_who_was_told_and_what(phone: Page, sign_in, asked):
    sign_in(phone, Account.objects.get(role="owner"))
    phone.goto("/week/")
    expect(phone.get_by_role("region", name="Covers")).to_contain_text(
        "Rook Ferrante is told by message"
    )
    phone.goto("/messages/")
    waiting = phone.get_by_role("region", name="Waiting")
    waiting.locator("summary", has_text="Rook Ferrante of the crew").tap()
    expect(waiting.get_by_text("by Wed 26 May 13:45, with Loft: rain")).to_be_visible()
    assert looks.amiss(phone) == []


def test_who_was_told_says_by_finger_that_she_is_covered(phone: Page, sign_in, asked):
    sign_in(phone, people.crew())
    phone.goto("/route/")
    expect(phone.get_by_text("with Loft. Touch no film")).to_be_visible()
    assert looks.amiss(phone) == []
    phone.get_by_role("button", name="She is covered").tap()
    expect(phone.get_by_text("with Loft. Touch no film")).to_have_count(0)
    assert Cover.objects.get().on_at is not None
    assert Notice.objects.filter(reason="cover").count() == 1


def test_she_is_covered_by_keys_alone(page: Page, sign_in, asked):
    sign_in(page, Account.objects.get(role="owner"))
    page.goto("/week/")
    part = page.get_by_role("region", name="Covers")
    part.get_by_role("button", name="She is covered").focus()
    page.keyboard.press("Enter")
    expect(part.get_by_role("button", name="The cover is off")).to_be_visible()
    assert Cover.objects.get().on_at is not None
    assert looks.serious_in_any_light(page) == []
