"""People, wheels, stores and new places in a real browser: on a phone, by keyboard, everything named."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Person, Skill
from tests.browser import looks
from tests.web import people
from tests.web.owner.test_crew_pages import PAGES, house, wanting

__all__ = ["house", "wanting"]


@pytest.fixture
def desk(page: Page, sign_in, transactional_db, wanting) -> Page:
    sign_in(page, people.owner())
    return page


@pytest.fixture
def small(phone: Page, sign_in, transactional_db, wanting) -> Page:
    sign_in(phone, people.owner())
    return phone


def test_on_a_phone_each_fits_and_nothing_serious_stands_in_the_way(small):
    for path in PAGES:
        small.goto(path)
        assert looks.wider_than_the_screen(small) == 0, path
        assert looks.serious_in_any_light(small) == [], path
        # A tick is tapped by its label.
        boxes = "#main input[type=checkbox]"
        small.eval_on_selector_all(
            boxes, "all => all.forEach(one => one.hidden = true)"
        )
        assert looks.small_targets(small, "#main") == [], path


def test_a_fit_test_renewed_by_keyboard_alone(desk):
    desk.goto("/people/")
    desk.get_by_role("link", name="Teague Amsel").focus()
    desk.keyboard.press("Enter")
    desk.get_by_label("Hood: fit test until").focus()
    desk.keyboard.type("09302027")
    desk.get_by_label("Reason").focus()
    desk.keyboard.type("Tested")
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("status")).to_contain_text("Thu 30 Sep 2027")
    assert str(Skill.objects.get().fit_test_until) == "2027-09-30"


def test_somebody_new_by_finger(small):
    small.goto("/people/new/")
    small.get_by_label("Name", exact=True).fill("Pilar Dunmore")
    small.get_by_label("Initials").fill("PD")
    small.get_by_label("Interior").select_option("1, able")
    small.get_by_label("Mon from").fill("08:45")
    small.get_by_label("Mon to").fill("16:00")
    small.get_by_role("button", name="Add them").tap()
    expect(small.get_by_role("heading", level=1)).to_have_text("Pilar Dunmore")
    assert Person.objects.get(key="pilar-dunmore").duties.count() == 1
