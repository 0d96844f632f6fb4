"""A posted lift slot is moved in a real browser: by finger on the job's page, by keys among what has happened."""

import re

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Job, Visit
from tests.actions.test_appointments import FRIDAY_AT, owner, posted
from tests.browser import looks

__all__ = ["owner", "posted"]

TERMS, TELL = "/jobs/j1/terms/", "/week/2027-05-24/happened/"
# The ticks among the terms below it are tapped by their labels.
PART = "[aria-labelledby=appointment]"


@pytest.fixture
def held(transactional_db, owner, posted):
    return owner


def test_by_finger_on_the_page_of_the_job(phone: Page, sign_in, held):
    sign_in(phone, held)
    phone.goto(TERMS)
    assert looks.amiss(phone, within=PART) == []
    part = phone.get_by_role("region", name="Appointment Thu 27 May, 09:45")
    part.get_by_label("New day and time").fill("2027-05-28T10:30")
    part.get_by_label("Reason").fill("The lift is broken")
    part.get_by_role("button", name="Move the appointment").tap()
    expect(phone.get_by_role("status")).to_contain_text(
        "2 posted visits were taken off"
    )
    expect(part).to_have_count(0)
    now = phone.get_by_role("region", name="Appointment Fri 28 May, 10:30")
    expect(now).to_contain_text("was told Thu 27 May, 09:30, and no visit stands then")
    assert looks.amiss(phone, within=PART) == []
    assert (Job.objects.get().fixed_start, Visit.objects.count()) == (FRIDAY_AT, 0)


def test_by_keys_alone_among_what_has_happened(page: Page, sign_in, held):
    sign_in(page, held)
    page.goto(TELL)
    part = page.get_by_role("region", name="An appointment was moved")
    part.get_by_label("Which").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.type("05282027")
    page.keyboard.press("ArrowRight")
    page.keyboard.type("1030am")
    expect(part.get_by_label("It is now")).to_have_value("2027-05-28T10:30")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text(
        "2 posted visits were taken off"
    )
    assert Job.objects.get().fixed_start == FRIDAY_AT
    assert looks.amiss(page) == []


def test_a_time_that_cannot_be_is_refused_in_words(phone: Page, sign_in, held):
    sign_in(phone, held)
    phone.goto(TERMS)
    field = phone.get_by_label("New day and time")
    field.evaluate("field => { field.type = 'text'; field.value = 'whenever'; }")
    part = phone.get_by_role("region", name="Appointment")
    part.get_by_label("Reason").fill("the yard's lift")
    phone.get_by_role("button", name="Move the appointment").tap()
    expect(field).to_be_focused()
    expect(field).to_be_in_viewport()
    expect(field).to_have_accessible_description(re.compile("Give a day and a time"))
    expect(part.get_by_label("Reason")).to_have_value("the yard's lift")
    assert Visit.objects.count() == 2
    assert looks.amiss(phone, within=PART) == []
