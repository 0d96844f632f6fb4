"""Against a rule, in a real browser: a visit's rule overruled, a draft posted with its reason."""

import pytest
from playwright.sync_api import expect

from dispatch.actions import weather
from dispatch.records.models import Override, Visit
from tests.actions import plans, test_overruling
from tests.actions.test_house_rules import LONG, WHY
from tests.browser import looks
from tests.web import people

PAGE = "/week/why/j1.starboard/"
visit = test_overruling.visit


@pytest.fixture
def owner(transactional_db):
    return people.owner()


@pytest.fixture
def why(phone, sign_in, visit, owner):
    sign_in(phone, owner)
    phone.goto(PAGE)
    return phone


def test_on_a_phone_the_owner_says_why_and_takes_it_back(why, visit):
    assert looks.wider_than_the_screen(why) == 0
    assert looks.small_targets(why, ".overrule") == []
    why.get_by_label("Your reason, kept and shown").fill("A cloth hangs there")
    why.get_by_role("button", name="Overrule: sun on the panel").tap()
    expect(why.locator(".notice.success")).to_contain_text("Overruled")
    weather.judge(visit.stage)
    why.reload()
    expect(why.locator(".overruled")).to_contain_text("orla: “A cloth hangs there.”")
    assert looks.serious(why) == []
    why.get_by_role("button", name="Let the rule stand again").tap()
    expect(why.locator(".notice.success")).to_contain_text("stands again")
    assert not Override.objects.exists()


def test_what_stands_against_a_day_is_a_line_on_a_phone_and_opens(why):
    day = why.locator("section:has(> .fold)").first
    line, reason = day.locator("summary"), day.get_by_text("may overrule it").first
    expect(line).to_contain_text("starboard is in the sun")
    expect(reason).to_be_hidden()
    assert looks.amiss(why) == []
    line.focus()
    why.keyboard.press("Enter")
    expect(reason).to_be_visible()
    assert looks.amiss(why) == []


def test_at_a_desk_every_days_table_has_the_same_columns(page, sign_in, owner):
    plans.coat(plans.outfit())
    page.set_viewport_size({"width": 1024, "height": 768})
    sign_in(page, owner)
    page.goto("/week/why/j1.port-as-she-lies/?week=2027-05-24")
    tables = page.locator(".against")
    lefts = tables.evaluate_all(
        """all => all.map(table => [...table.querySelectorAll('thead th')]
            .map(head => Math.round(head.getBoundingClientRect().left)).join())"""
    )
    assert len(lefts) > 2
    assert len(set(lefts)) == 1
    assert looks.wider_than_the_screen(page) == 0


def test_a_draft_against_a_rule_is_posted_with_its_reason(phone, sign_in, owner):
    plans.coat(plans.outfit())
    plans.draft([LONG])
    sign_in(phone, owner)
    phone.goto("/week/2027-05-24/")
    house = phone.locator(".house")
    expect(house).to_contain_text("without a break of 30")
    assert looks.wider_than_the_screen(phone) == 0
    assert looks.small_targets(phone, ".house") == []
    assert looks.serious(phone) == []
    house.get_by_label("Why it may be so").fill(WHY)
    house.get_by_role("button", name="Post the week with this reason").tap()
    expect(phone.locator(".notice.success")).to_contain_text("The week is posted")
    assert Visit.objects.count() == 1
