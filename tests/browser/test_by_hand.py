"""The owner changes the week by hand in a real browser: at a desk, on a phone, by keyboard alone, two at once."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import planning
from dispatch.records.models import (
    Account,
    Bump,
    HistoryEntry,
    Outfit,
    Pin,
    WeekPlan,
)
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.browser.looks import (
    amiss,
    serious,
    serious_in_any_light,
    wider_than_the_screen,
)
from tests.browser.test_moves import press
from tests.web import people

pytestmark = pytest.mark.timeout(180)
PAGE = "/week/why/j1.wash/moves/"


@pytest.fixture
def owner(transactional_db):
    return people.owner()


@pytest.fixture
def washed(transactional_db):
    plans.wash(plans.outfit())
    return placed()


def started(plan: WeekPlan) -> int:
    return plan.plan["van_days"][0]["stops"][0]["start"]


@pytest.mark.parametrize("width", [1440, 1024, 390])
def test_a_visit_is_tried_put_and_taken_back(new_page, sign_in, washed, owner, width):
    page = new_page(width=width, height=900)
    sign_in(page, owner)
    page.goto(PAGE)
    page.get_by_role("textbox", name="Start").fill("16:50")
    page.get_by_role("button", name="Try it").click()
    tried = page.locator(".tried")
    expect(tried).to_contain_text("It springs back")
    expect(tried).to_contain_text("Tue")
    assert serious_in_any_light(page) == []
    page.get_by_role("textbox", name="Start").fill("11:00")
    page.get_by_role("button", name="Try it").click()
    expect(tried).to_contain_text(
        "It fits: “Maintenance wash” on Tuesday at 11:00 with Knot."
    )
    page.get_by_text("Who goes, if that van has nobody").click()
    assert amiss(page, within="main") == []
    page.get_by_role("button", name="Put it there in a draft").click()
    expect(page.locator(".by-hand")).to_contain_text("Tuesday at 11:00 with Knot")
    assert wider_than_the_screen(page) == 0
    assert serious_in_any_light(page) == []
    page.get_by_role("button", name="Undo it").click()
    expect(page.get_by_text("Taken back.")).to_be_visible()
    washed.refresh_from_db()
    assert washed.state == "draft"


def test_it_is_done_by_keyboard_alone(page: Page, sign_in, washed, owner):
    sign_in(page, owner)
    page.goto(PAGE)
    page.get_by_role("textbox", name="Start").fill("11:00")
    press(page, "Try it")
    expect(page.locator(".tried")).to_contain_text("It fits")
    press(page, "Put it there in a draft")
    expect(page.locator(".by-hand")).to_contain_text("Tuesday at 11:00")


@pytest.fixture
def both(new_page, sign_in, client, owner):
    """Two people with a browser each: one at a desk, one in the yard with a phone."""
    other = Account.objects.create(
        username="ida",
        role=Account.Role.OWNER,
        person=plans.person("ida", "Ida Quill", "IQ"),
    )
    desk, phone = new_page(width=1440, height=900), new_page(width=390, height=844)
    sign_in(desk, owner)
    client.cookies.clear()  # each keeps a session of their own
    sign_in(phone, other)
    return desk, phone


def put(page: Page, at: str) -> None:
    page.get_by_role("button", name="Put it there in a draft").click()
    expect(page.locator(".by-hand")).to_contain_text(at)


def test_two_people_edit_one_week_and_nothing_is_lost(washed, both):
    """A29: on one boat the second sees both and may do theirs again; on two boats at once both stand."""
    desk, phone = both
    desk.goto(f"{PAGE}?van=knot&day=2027-05-25&at=12:00")
    phone.goto(f"{PAGE}?van=knot&day=2027-05-25&at=11:00")
    put(phone, "Tuesday at 11:00")
    desk.get_by_role("button", name="Put it there in a draft").click()
    expect(desk.get_by_role("alert")).to_contain_text(
        "Ida Quill changed this boat's visits"
    )
    for line in ("Tue 09:00", "Tue 11:00", "at 12:00 with Knot"):
        expect(desk.locator("main")).to_contain_text(line)
    assert serious(desk) == []
    desk.get_by_role("button", name="Do mine all the same").click()
    expect(desk.locator(".by-hand")).to_contain_text("Tuesday at 12:00")
    phone.get_by_role("button", name="Undo it").click()
    expect(phone.get_by_text("Take the newest change back first")).to_be_visible()
    expect(phone.locator(".by-hand")).to_contain_text("Tuesday at 12:00")
    said = HistoryEntry.objects.filter(verb="by-hand").order_by("pk")
    assert [one.actor for one in said] == ["Ida Quill", "orla"]


def test_it_is_made_fast_cast_off_and_she_is_left_out(
    phone: Page, sign_in, washed, owner
):
    sign_in(phone, owner)
    phone.goto(PAGE)
    phone.get_by_role("button", name="Make it fast (pin it)").click()
    expect(phone.get_by_text("It is made fast (pinned) to Knot")).to_be_visible()
    assert Pin.objects.count() == 1
    phone.get_by_role("button", name="Cast it off (unpin)").click()
    expect(phone.get_by_text("It may be moved again.")).to_be_visible()
    section = phone.get_by_role("region", name="Leave Second Wind out of this week")
    section.get_by_role("textbox").fill("Her owner is away")
    section.get_by_role("button").click()
    expect(phone.locator(".by-hand")).to_contain_text("Second Wind is left out")
    assert Bump.objects.count() == 1
    phone.get_by_role("button", name="Plan her again").click()
    expect(phone.get_by_text("Second Wind may be planned again.")).to_be_visible()
    assert wider_than_the_screen(phone) == 0


def test_all_is_held_still_and_goes_on(page: Page, sign_in, washed, owner):
    planning.post(washed, by=owner)
    sign_in(page, owner)
    page.goto("/week/")
    page.get_by_text("No plan is taken and no message leaves until").click()
    page.get_by_role("textbox", name="Why").fill("A boat is half sprayed")
    page.get_by_role("button", name="Hold everything still").click()
    held = page.get_by_role("region", name="Held still")
    expect(held).to_contain_text("A boat is half sprayed. No plan is taken")
    assert serious(page) == []
    assert Outfit.objects.get().still_since is not None
    held.get_by_role("button", name="Let it go on").click()
    expect(held).to_have_count(0)
