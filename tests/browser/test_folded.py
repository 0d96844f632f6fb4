"""On a phone what stands beneath the board and the settings' groups are folded, each told in a line; at a desk nothing is."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import settings
from dispatch.web.owner.settings_groups import GROUPS
from tests.actions import plans
from tests.browser import looks
from tests.browser.test_seven_questions import week
from tests.web import people

pytestmark = pytest.mark.timeout(120)
PHONE, DESK = {"width": 390, "height": 844}, {"width": 1440, "height": 900}
__all__ = ["week"]


@pytest.fixture
def owner(transactional_db):
    plans.outfit()
    return people.owner()


@pytest.fixture
def hers(phone: Page, sign_in, week) -> Page:
    """The owner's phone on her standing week."""
    sign_in(phone, week)
    phone.goto("/week/")
    return phone


def folded(page: Page, name: str):
    """A part's line, by the part's heading."""
    return page.get_by_role("region", name=name).locator("details > summary").first


def is_open(line) -> bool:
    return line.evaluate("line => line.parentElement.open")


def test_beneath_the_board_each_part_is_a_line_with_its_numbers(hers):
    for name, says in {
        "Not told yet": "1 to call by hand: first Osprey, Sat 08:10",
        "Spray slots that remain": "Best Fri 13:0",
        "Changed since you last looked": "1 since you looked, the last",
        "How to read a strip": "Its 13 signs",
    }.items():
        line = folded(hers, name)
        expect(line).to_contain_text(says)
        assert not is_open(line), name
    expect(hers.locator(".snags > .snag")).to_be_visible()
    assert looks.amiss(hers) == []


def test_a_part_is_opened_by_keyboard_alone_and_closed_again(hers):
    line = folded(hers, "Not told yet")
    line.focus()
    hers.keyboard.press("Enter")
    expect(hers.get_by_text("Neither text nor e-mail may go")).to_be_visible()
    hers.keyboard.press("Enter")
    expect(hers.get_by_text("Neither text nor e-mail may go")).to_be_hidden()


def test_what_leads_to_a_part_opens_it(hers):
    hers.locator(".glance").get_by_role("link", name="Not told").tap()
    expect(hers.get_by_text("Neither text nor e-mail may go")).to_be_in_viewport()
    hers.locator(".glance").get_by_role("link", name="Crew").tap()
    words = hers.get_by_label("The board in words", exact=True).locator("pre")
    expect(words).to_be_visible()


def test_a_bookmark_of_a_part_opens_it_and_no_other(phone, sign_in, week):
    sign_in(phone, week)
    phone.goto("/week/#slots")
    assert is_open(folded(phone, "Spray slots that remain"))
    assert not is_open(folded(phone, "Not told yet"))
    expect(phone.locator("#slots")).to_be_in_viewport()


def test_at_a_desk_nothing_is_folded_and_a_turned_screen_is_laid_anew(
    page, sign_in, week
):
    sign_in(page, week)
    page.set_viewport_size(DESK)
    page.goto("/week/")
    expect(page.get_by_text("Neither text nor e-mail may go")).to_be_visible()
    expect(page.locator(".fold > summary:visible")).to_have_count(0)
    page.set_viewport_size(PHONE)
    expect(page.get_by_text("Neither text nor e-mail may go")).to_be_hidden()
    page.set_viewport_size(DESK)
    expect(page.get_by_text("Neither text nor e-mail may go")).to_be_visible()


def test_without_script_all_stands_open(new_page, sign_in, week):
    page = new_page(width=390, java_script_enabled=False)
    sign_in(page, week)
    page.goto("/week/")
    expect(page.get_by_text("Neither text nor e-mail may go")).to_be_visible()


def test_the_settings_are_a_list_of_groups_with_what_was_changed(phone, sign_in, owner):
    settings.change("travel.km_per_hour", 64.37376, by=owner, why="the new road")
    sign_in(phone, owner)
    phone.goto("/settings/")
    for _, name, _, _ in GROUPS:
        assert not is_open(folded(phone, name)), name
    expect(folded(phone, "Days, hours and roads")).to_contain_text(
        "1 changed: Driving, speed on the road 40 mph"
    )
    expect(folded(phone, "Messages")).to_contain_text("messages from 08:00")
    assert phone.evaluate("document.documentElement.scrollHeight") < 2500
    assert looks.amiss(phone) == []
    folded(phone, "Days, hours and roads").tap()
    phone.get_by_role("link", name="Change Driving").tap()
    expect(phone).to_have_url("/settings/travel/")


def test_a_number_that_will_not_do_is_never_folded_away(phone, sign_in, owner):
    sign_in(phone, owner)
    phone.goto("/settings/learnt/#learnt.wash.2")
    field = phone.locator("[id='learnt.wash.2']")
    expect(field).to_be_in_viewport()
    expect(phone.locator("[id='learnt.interior.1']")).to_be_hidden()
    field.fill("lots")
    phone.get_by_role("button", name="Save the changes").tap()
    expect(phone.get_by_role("alert")).to_contain_text("Nothing was changed")
    expect(field).to_be_visible()
    phone.get_by_role("alert").get_by_role("link").tap()
    expect(field).to_be_in_viewport()
    assert looks.amiss(phone, within=".parted") == []


def test_a_card_that_is_pointed_at_is_seen_though_its_group_folds(
    phone, sign_in, owner
):
    sign_in(phone, owner)
    phone.goto("/settings/#card-shifts")
    expect(phone.locator("#card-shifts")).to_be_in_viewport()
    assert not is_open(folded(phone, "Messages"))
