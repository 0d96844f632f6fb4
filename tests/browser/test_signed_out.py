"""Signed out in the middle of a form: after signing in again it stands on its page as it was written."""

import pytest
from django.contrib.sessions.models import Session
from playwright.sync_api import Page, expect

from dispatch.records.models import Customer, DayOff, Setting
from tests.actions import plans
from tests.browser import looks
from tests.web import people

pytestmark = pytest.mark.timeout(120)
WHY = "His mother's “eightieth”, & a long drive\nthere and back."
TOLD = "What you wrote stands below again: look it over, and send it."


@pytest.fixture
def desk(page: Page, sign_in, transactional_db) -> Page:
    plans.wash(plans.outfit())
    sign_in(page, people.owner())
    return page


def sign_in_again(page: Page) -> None:
    page.get_by_label("Name").fill("orla")
    page.get_by_label("Password").fill(people.PASSWORD)
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text(TOLD)
    expect(page.get_by_role("alert")).to_be_focused()


def test_a_folded_form_comes_back_open_and_whole(desk):
    desk.goto("/people/rook/")
    desk.get_by_text("Enter days away").click()
    written = {
        "From": "2027-06-08",
        "To, that day too": "2027-06-10",
        "There only from": "09:00",
        "There only until": "12:00",
        "Why": "A long drive",
    }
    for label, value in written.items():
        desk.get_by_label(label).first.fill(value)
    Session.objects.all().delete()
    desk.get_by_role("button", name="Store it").click()
    sign_in_again(desk)
    for label, value in written.items():
        expect(desk.get_by_label(label).first).to_have_value(value)
    assert desk.locator("form.unread").count() == 0
    assert looks.serious(desk) == []
    desk.get_by_role("button", name="Store it").click()
    expect(desk.get_by_role("status").first).to_be_visible()
    assert DayOff.objects.filter(reason="A long drive").exists()


def test_a_page_of_fields_and_ticks_comes_back_as_it_was(desk):
    desk.goto("/customers/new/")
    desk.get_by_label("Name").first.fill("Okafor")
    desk.get_by_label("E-mail").first.fill("okafor@pell.test")
    Session.objects.all().delete()
    desk.locator("main form button.main").click()
    sign_in_again(desk)
    desk.locator("main form button.main").click()
    expect(desk.get_by_role("status").first).to_be_visible()
    assert Customer.objects.get(name="Okafor").email == "okafor@pell.test"


def test_what_somebody_else_set_meanwhile_is_still_told(desk):
    desk.goto("/settings/spray/")
    desk.get_by_label("Steady wind at most", exact=True).fill("8")
    desk.get_by_label("Reason").fill(WHY)
    Session.objects.all().delete()
    desk.locator("main form button.main").first.click()
    Setting.objects.create(name="spray.wind_max_ms", value=4.0)
    sign_in_again(desk)
    expect(desk.get_by_label("Reason")).to_have_value(WHY)
    desk.locator("main form button.main").first.click()
    expect(desk.get_by_role("alert").first).to_contain_text("was changed while")
    expect(desk.get_by_label("Steady wind at most", exact=True)).to_have_value("8")


def test_a_secret_is_written_again(desk):
    desk.goto("/plugins/notify_email/")
    desk.get_by_label("Host").fill("mail.pell.test")
    desk.get_by_label("Password").fill("hatch-and-hawser")
    Session.objects.all().delete()
    desk.get_by_role("button", name="Turn it on").click()
    sign_in_again(desk)
    expect(desk.get_by_role("alert")).to_contain_text(
        "Choose or write again: what is kept secret."
    )
    expect(desk.get_by_label("Host")).to_have_value("mail.pell.test")
    expect(desk.get_by_label("Password")).to_have_value("")
