"""The owner builds and posts the week in a real browser: at a desk, on a phone, by keyboard alone."""

from string import ascii_letters, digits

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import sweeping
from dispatch.records.models import Visit, WeekPlan
from dispatch.web.owner import draw_initials
from tests.actions import plans
from tests.browser import looks
from tests.web import people

pytestmark = pytest.mark.timeout(120)
LONGEST_MS = 15_000
FRIDAY = (
    28,
    "07:30",
    "16:30",
    [
        ("j1.mask", "07:40", "08:35"),
        ("j1.port-as-she-lies", "09:30", "10:55"),
        ("j1.starboard-as-she-lies", "15:50", "16:15"),
    ],
)


@pytest.fixture
def place(transactional_db):
    return plans.outfit()


@pytest.fixture
def owner(transactional_db):
    return people.owner()


def enter(page: Page) -> None:
    page.goto("/sign-in/")
    page.get_by_label("Name").fill("orla")
    page.get_by_label("Password").fill(people.PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()
    page.goto("/week/")


def work_off() -> None:
    """Do what a worker would, for the one week that was asked for."""
    WeekPlan.objects.update(seconds=1)
    sweeping.sweep()


def wider_than_its_window(page: Page) -> bool:
    return page.evaluate("() => document.documentElement.scrollWidth > innerWidth")


@pytest.mark.parametrize("width", [1440, 390])
def test_the_owner_builds_and_posts_the_week(new_page, place, owner, width):
    plans.wash(place)
    page = new_page(width=width, height=900)
    enter(page)
    page.get_by_role("button", name="Build the week").click()
    expect(page.get_by_text("Waiting for a worker")).to_be_visible()
    work_off()
    post = page.get_by_role("button", name="Post the week")
    expect(post).to_be_visible(timeout=LONGEST_MS)
    expect(page.locator("p.state")).to_contain_text("nobody has been told")
    assert not wider_than_its_window(page)
    post.click()
    expect(page.get_by_text("this is what people are told")).to_be_visible()
    assert Visit.objects.count() == 1


def test_it_is_done_by_keyboard_alone(new_page, place, owner):
    plans.wash(place)
    page = new_page(width=1440)
    page.goto("/sign-in/")
    expect(page.locator("input[name=username]")).to_be_focused()
    page.keyboard.type("orla")
    page.keyboard.press("Tab")
    page.keyboard.type(people.PASSWORD)
    page.keyboard.press("Enter")
    expect(page).to_have_url("/start/steps/")
    press(page, "Week")
    expect(page).to_have_url("/week/")
    press(page, "Build the week")
    expect(page.get_by_text("Waiting for a worker")).to_be_visible()
    work_off()
    expect(page.get_by_role("button", name="Post the week")).to_be_visible(
        timeout=LONGEST_MS
    )
    press(page, "Post the week")
    expect(page.get_by_text("this is what people are told")).to_be_visible()
    press(page, "Second Wind, ")
    expect(page).to_have_url("/week/why/j1.wash/?week=2027-05-24")


def press(page: Page, name: str) -> None:
    """Tab on until what has the focus is called so, and see that the focus shows; then press Enter."""
    for _ in range(60):
        page.keyboard.press("Tab")
        said, seen = page.evaluate(
            "() => { const e = document.activeElement;"
            " return [e.getAttribute('aria-label') || e.textContent,"
            " getComputedStyle(e).outlineStyle] }"
        )
        if said.strip().startswith(name):
            assert seen != "none"
            page.keyboard.press("Enter")
            return
    raise AssertionError(f"The keyboard never reaches {name}.")


@pytest.mark.parametrize("width", [1440, 390])
def test_nothing_serious_stands_in_anybodys_way(new_page, place, owner, width):
    plans.coat(place)
    left = {"stage": "j1.finish", "code": "no-room", "why": "No place was found."}
    plans.draft([FRIDAY], [left])
    page = new_page(width=width)
    page.goto("/sign-in/")
    assert looks.serious_in_any_light(page) == []
    enter(page)
    page.eval_on_selector_all("details", "all => all.forEach(one => one.open = true)")
    assert looks.serious_in_any_light(page) == []
    assert not wider_than_its_window(page)
    page.goto("/week/why/j1.port-as-she-lies/")
    assert looks.serious_in_any_light(page) == []
    assert not wider_than_its_window(page)


def test_a_draft_in_the_making_can_be_stopped(page, place, owner):
    plans.wash(place)
    enter(page)
    page.get_by_role("button", name="Build the week").click()
    page.get_by_role("button", name="Stop, keep the best so far").click()
    expect(page.get_by_text("stopping with it")).to_be_visible()
    assert WeekPlan.objects.get().stop_asked


def test_progress_is_told_without_a_reload(page, place, owner):
    plans.wash(place)
    enter(page)
    page.get_by_role("button", name="Build the week").click()
    line = {"phase": "search", "cost": 812345, "steps": 240}
    WeekPlan.objects.update(state="building", progress=line)
    expect(page.get_by_text("$8,123 after 240 steps")).to_be_visible(timeout=LONGEST_MS)


def test_no_letter_is_wider_than_the_room_it_is_given(page, place, owner):
    plans.wash(place)
    enter(page)
    measured = page.evaluate(
        """letters => letters.map(letter => {
            const one = document.createElementNS('http://www.w3.org/2000/svg', 'text');
            one.setAttribute('class', 'who-above');
            one.textContent = letter.repeat(2);
            document.querySelector('svg.board').append(one);
            return one.getComputedTextLength();
        })""",
        list(ascii_letters + digits + "+"),
    )
    found = zip(ascii_letters + digits + "+", measured, strict=True)
    assert [x for x, wide in found if wide > draw_initials.wide(x * 2)] == []


def test_the_clock_is_moved_on_from_the_board(page, place, owner):
    enter(page)
    page.get_by_role("button", name="to 06:00").click()
    expect(page).to_have_url("/week/")
    expect(page.get_by_text("Mon 24 May 2027 06:00")).to_be_visible()
