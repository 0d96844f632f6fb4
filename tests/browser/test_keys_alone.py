"""Every change of the week by keys alone, the focus seen on each thing that is pressed and kept where the page renews a part of itself."""

from itertools import pairwise

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import by_hand, planning, replanning
from dispatch.records.models import Bump, Outfit, Override, Pin, Van, WeekPlan
from tests.actions import plans, test_other_ways, test_overruling
from tests.actions.test_moves import placed
from tests.browser.looks import amiss
from tests.browser.test_moves import press
from tests.web import people

pytestmark = pytest.mark.timeout(240)
MOVES = "/week/why/j1.wash/moves/"
visit = test_overruling.visit
FOCUS = "() => { const e = document.activeElement; return [e.getAttribute('href') || (e.name && '=' + e.name) || e.id || '', getComputedStyle(e).outlineStyle] }"


@pytest.fixture
def owner(transactional_db):
    return people.owner()


@pytest.fixture
def washed(transactional_db):
    plans.wash(plans.outfit())
    plans.person("spare", "Corin Vale", "CV")
    return placed()


def reach(page: Page, called: str) -> None:
    """Tab on until what leads there, or is named so, has the focus and shows it."""
    for _ in range(120):
        page.keyboard.press("Tab")
        name, seen = page.evaluate(FOCUS)
        if called in name:
            assert seen != "none"
            return
    raise AssertionError(f"The keyboard never reaches {called}.")


def by_hand_says(page: Page, words: str) -> None:
    expect(page.locator(".by-hand")).to_contain_text(words)


def moved(page: Page) -> None:
    page.goto("/week/")
    reach(page, "/why/j1.wash/")
    page.keyboard.press("Shift+ArrowRight")
    expect(page.locator("#dropped")).to_contain_text("It fits")
    assert "/why/j1.wash/" in page.evaluate(FOCUS)[0]
    page.keyboard.press("Enter")
    by_hand_says(page, "Tuesday at 09:15 with Knot")
    press(page, "Undo it")
    expect(page.get_by_text("Taken back.")).to_be_visible()


def made_fast(page: Page) -> None:
    page.goto(MOVES)
    press(page, "Make it fast")
    expect(page.get_by_text("It is made fast (pinned) to Knot")).to_be_visible()
    assert Pin.objects.count() == 1
    press(page, "Cast it off")
    expect(page.get_by_text("It may be moved again.")).to_be_visible()


def swapped(page: Page) -> None:
    reach(page, "=out")
    page.keyboard.type("Rook")
    reach(page, "=into")
    page.keyboard.type("Corin")
    press(page, "Swap them in a draft")
    by_hand_says(page, "Corin Vale rides in Knot on Tuesday, not Rook Ferrante")
    press(page, "Undo it")
    expect(page.get_by_text("Taken back.")).to_be_visible()


def left_out(page: Page) -> None:
    page.goto(MOVES)
    reach(page, "=why")
    page.keyboard.type("Her owner is away")
    press(page, "Leave her out in a draft")
    by_hand_says(page, "Second Wind is left out")
    assert Bump.objects.count() == 1
    press(page, "Plan her again")
    expect(page.get_by_text("Second Wind may be planned again.")).to_be_visible()
    press(page, "Undo it")
    expect(page.get_by_text("Taken back.")).to_be_visible()


def posted_and_held(page: Page) -> None:
    press(page, "Post the week")
    expect(page.get_by_text("The week is posted")).to_be_visible()
    press(page, "No plan is taken and no message leaves until")
    reach(page, "=why")
    page.keyboard.type("A boat is half sprayed")
    press(page, "Hold everything still")
    expect(page.get_by_role("region", name="Held still")).to_be_visible()
    assert Outfit.objects.get().still_since is not None
    press(page, "Let it go on")
    expect(page.get_by_role("region", name="Held still")).to_have_count(0)


def test_the_week_is_changed_posted_and_held_by_keys(
    page: Page, sign_in, washed, owner
):
    sign_in(page, owner)
    for change in (moved, made_fast, swapped, left_out, posted_and_held):
        change(page)


def test_a_draft_is_taken_whole_in_part_or_left_and_waiting_keeps_the_focus(
    page: Page, sign_in, washed, owner
):
    planning.post(washed, by=owner, why="The owner says so.")
    later = plans.at(25, "12:00")
    by_hand.put(washed, "j1.wash", Van.objects.get(), later, by=owner)
    sign_in(page, owner)
    page.goto("/week/")
    press(page, "Keep it as it stands")
    by_hand_says(page, "“Maintenance wash” on Tuesday at 09:00 with Knot")
    press(page, "Undo it")
    by_hand_says(page, "“Maintenance wash” on Tuesday at 12:00 with Knot")
    press(page, "Take the draft: it stands")
    expect(page.get_by_text("The week is posted")).to_be_visible()
    assert WeekPlan.objects.filter(state="standing").count() == 1

    sooner, stands = plans.at(25, "11:00"), WeekPlan.objects.get(state="standing")
    by_hand.put(stands, "j1.wash", Van.objects.get(), sooner, by=owner)
    page.reload()
    press(page, "Leave it aside")
    expect(page.get_by_text("The draft is left aside.")).to_be_visible()

    replanning.ask(stands.week, by=owner)
    page.reload()
    reach(page, "stop-build")
    with page.expect_response("**/progress/**"):
        pass
    page.wait_for_timeout(200)
    assert page.evaluate(FOCUS) == ["stop-build", "solid"]


def test_a_boat_is_turned_or_covered_by_keys(page: Page, sign_in, owner):
    plan = test_other_ways.sprayed()
    sign_in(page, owner)
    page.goto("/week/")
    reach(page, "/why/j1.prep/")
    page.keyboard.press("t")
    told = page.locator("#dropped")
    expect(told).to_contain_text("This plan has her under a roof", timeout=20_000)
    assert "/why/j1.prep/" in page.evaluate(FOCUS)[0]
    assert amiss(page, within="#dropped") == []
    press(page, "As she lies, behind side-screens, in a draft")
    by_hand_says(page, "Second Wind: As she lies, behind side-screens")
    reach(page, f"/ways/{plan.problem['jobs'][0]['id']}/")
    page.keyboard.press("Enter")
    expect(told).to_contain_text("Cover her with a roof", timeout=20_000)
    press(page, "Undo it")
    expect(page.get_by_text("Taken back.")).to_be_visible()
    assert WeekPlan.objects.get(state="draft") == plan


def test_a_rule_is_overruled_with_a_reason_by_keys(page: Page, sign_in, visit, owner):
    sign_in(page, owner)
    page.goto("/week/why/j1.starboard/")
    reach(page, "=why")
    page.keyboard.type("A cloth hangs there")
    press(page, "Overrule: sun on the panel")
    expect(page.locator(".notice.success")).to_contain_text("Overruled")
    assert Override.objects.get().why == "A cloth hangs there."
    press(page, "Let the rule stand again")
    expect(page.locator(".notice.success")).to_contain_text("stands again")
    assert not Override.objects.exists()


RECTS = """() => {
    const one = document.activeElement, box = one.getBoundingClientRect();
    const of = one.closest('header.top, .week-head')?.className;
    const along = one.closest('nav')?.scrollLeft ?? 0;
    return { of, left: box.left + along, right: box.right + along, top: box.top + scrollY, bottom: box.bottom + scrollY, name: one.innerText };
}"""


def goes_back(page: Page) -> list[str]:
    """Where the focus goes against the order that is seen, in the head of a page: up, or left in a row."""
    stops = []
    for _ in range(60):
        page.keyboard.press("Tab")
        stop = page.evaluate(RECTS)
        if stops and stop["name"] == stops[0]["name"]:
            break
        stops.append(stop)
    head = [stop for stop in stops if stop.get("of")]
    assert len(head) > 2
    return [
        f"{one['name']} to {then['name']}"
        for one, then in pairwise(head)
        if then["of"] == one["of"]
        and (
            then["bottom"] <= one["top"] + 2
            or (then["top"] < one["bottom"] - 2 and then["right"] <= one["left"] + 2)
        )
    ]


@pytest.mark.parametrize("width", [390, 768, 1024, 1440])
def test_the_focus_goes_as_the_eye_does_at_each_width(
    new_page, sign_in, owner, washed, width
):
    page = new_page(width=width)
    sign_in(page, owner)
    for path in ("/week/", "/book/"):
        page.goto(path)
        assert goes_back(page) == [], path
        assert page.get_by_role("button", name="Sign out").count() == 1
