"""Something has happened: the owner enters it, the rest of the week is planned anew, and the draft is taken or left."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import planning, sweeping
from dispatch.records.models import DayOff, Outfit, Visit, WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.browser.looks import serious, small_targets, wider_than_the_screen
from tests.browser.test_moves import press
from tests.web import people

pytestmark = pytest.mark.timeout(180)


@pytest.fixture
def owner(transactional_db):
    return people.owner()


@pytest.fixture
def posted(owner):
    plans.wash(plans.outfit())
    plan = placed()
    planning.post(plan, by=owner)
    Outfit.objects.update(stands_at=plans.at(25, "06:10"))
    return plan


def work_off() -> None:
    WeekPlan.objects.filter(state="asked").update(seconds=1)
    sweeping.sweep("search")


@pytest.mark.parametrize("width", [1440, 1024, 390])
def test_a_van_breaks_down_and_the_draft_is_taken(
    new_page, sign_in, posted, owner, width
):
    page = new_page(width=width, height=900)
    sign_in(page, owner)
    page.goto("/week/")
    page.get_by_role("link", name="What has happened?").click()
    assert serious(page) == []
    assert wider_than_the_screen(page) == 0
    assert small_targets(page, ".happened") == []
    page.get_by_label("Which").first.select_option("Knot")
    section = page.get_by_role("region", name="A van is off the road")
    section.get_by_label("Why").fill("gearbox")
    section.get_by_role("button", name="Enter it and plan the rest anew").click()
    told = page.get_by_role("status").filter(has_text="nobody is told")
    expect(told).to_contain_text("Knot is off the road on Tuesday 25 May.")
    work_off()
    take = page.get_by_role("button", name="Take the draft: it stands")
    expect(take).to_be_visible(timeout=30_000)
    changed = page.get_by_role("region", name="What this draft changes")
    expect(changed).to_contain_text("Because: Knot is off the road on Tuesday 25 May.")
    expect(changed).to_contain_text("Ames has not been told of this visit yet.")
    page.get_by_text("Whose days change").click()
    assert serious(page) == []
    assert wider_than_the_screen(page) == 0
    take.click()
    expect(page.get_by_text("this is what people are told")).to_be_visible()
    assert Visit.objects.get().start.day == 26


def test_from_the_alarm_one_tap_gives_the_draft_by_keyboard(
    page: Page, sign_in, posted, owner
):
    rook = DayOff.objects.create(
        person_id=plans.Person.objects.get(key="rook").pk,
        on=plans.at(25, "06:10").date(),
        reason="sick",
    )
    sign_in(page, owner)
    page.goto("/week/")
    expect(page.locator(".snag").first).to_contain_text("Away Tuesday (sick)")
    press(page, "Plan the rest anew: Rook Ferrante")
    expect(page.get_by_text("Waiting for a worker")).to_be_visible()
    work_off()
    expect(page.get_by_role("button", name="Take the draft: it stands")).to_be_visible(
        timeout=30_000
    )
    press(page, "Leave it aside")
    expect(page.get_by_text("The draft is left aside.")).to_be_visible()
    assert Visit.objects.get().start.day == 25
    assert rook.reason == "sick"


def test_refused_on_a_phone_the_sentence_is_in_sight_and_the_form_as_it_was(
    phone: Page, sign_in, posted, owner
):
    sign_in(phone, owner)
    phone.goto("/week/2027-05-24/happened/")
    part = phone.get_by_role("region", name="A van is off the road")
    part.get_by_label("Which").select_option("Knot")
    part.get_by_label("From the day").fill("2027-05-28")
    part.get_by_label("To the day").fill("2027-05-26")
    part.get_by_label("Why").fill("gearbox")
    part.get_by_role("button", name="Enter it only").tap()
    told = part.get_by_role("alert")
    expect(told).to_contain_text("Put the later day last.")
    expect(told).to_be_in_viewport()
    expect(part.get_by_label("Which")).to_have_value("knot")
    expect(part.get_by_label("Why")).to_have_value("gearbox")
    assert serious(phone) == []
    assert wider_than_the_screen(phone) == 0
    part.get_by_label("To the day").fill("2027-05-28")
    part.get_by_role("button", name="Enter it only").tap()
    told = phone.get_by_role("status").filter(has_text="nobody is told")
    expect(told).to_contain_text("Knot is off the road on Friday 28 May.")
    expect(told).to_be_in_viewport()


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_opens_it(page: Page, sign_in, posted, make):
    sign_in(page, make())
    assert page.goto("/week/2027-05-24/happened/").status == 403
