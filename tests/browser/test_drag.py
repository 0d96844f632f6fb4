"""A visit dragged along the board, by pointer and by keys: the server answers, it stays or springs back."""

import pytest
from playwright.sync_api import Page, Route, expect

from dispatch.records.models import WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.browser.looks import serious, wider_than_the_screen
from tests.web import people

pytestmark = pytest.mark.timeout(180)


@pytest.fixture
def owner(transactional_db):
    return people.owner()


@pytest.fixture
def washed(transactional_db):
    plans.wash(plans.outfit())
    return placed()


def pull(page: Page, dx: float, what: str) -> None:
    """Take hold of a mark and move it along, without letting go."""
    box = page.locator(what).first.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx / 2, y, steps=3)
    page.mouse.move(x + dx, y, steps=3)


def drag(page: Page, dx: float) -> None:
    pull(page, dx, ".board .strip a rect.hands")
    page.mouse.up()


@pytest.mark.parametrize("width", [1440, 1024])
def test_it_is_dragged_and_put(new_page, sign_in, washed, owner, width):
    page = new_page(width=width, height=900)
    sign_in(page, owner)
    page.goto("/week/")
    drag(page, 14)
    told = page.locator("#dropped")
    expect(told).to_contain_text("It fits: “Maintenance wash” on Tuesday")
    assert serious(page) == []
    assert wider_than_the_screen(page) == 0
    told.get_by_role("button", name="Put it there in a draft").click()
    expect(page.locator(".by-hand")).to_contain_text("“Maintenance wash” on Tuesday")
    newest = WeekPlan.objects.order_by("-asked_at").first()
    assert newest.plan["van_days"][0]["stops"][0]["start"] > 1980


def test_it_springs_back_from_the_night_with_its_reason(
    page: Page, sign_in, washed, owner
):
    sign_in(page, owner)
    page.goto("/week/")
    drag(page, 75)
    told = page.locator("#dropped")
    expect(told).to_contain_text("It springs back")
    expect(told).to_contain_text("its hours that day are Wed 07:30")
    moved = page.locator(".board .strip a").first.get_attribute("transform")
    assert moved == "translate(0 0)"
    assert WeekPlan.objects.count() == 1


def test_it_is_moved_by_keys_a_quarter_hour_and_a_day(
    page: Page, sign_in, washed, owner
):
    sign_in(page, owner)
    page.goto("/week/")
    page.locator(".board .strip a").first.focus()
    page.keyboard.press("Shift+ArrowRight")
    told = page.locator("#dropped")
    expect(told).to_contain_text("Tuesday at 09:15")
    page.keyboard.press("Shift+ArrowRight")
    expect(told).to_contain_text("Tuesday at 09:30")
    page.keyboard.press("Shift+ArrowDown")
    expect(told).to_contain_text("Wednesday at 09:30")
    page.keyboard.press("Escape")
    expect(told).to_be_empty()
    page.keyboard.press("Enter")
    expect(page).to_have_url("/week/why/j1.wash/?week=2027-05-24")


def test_the_last_question_alone_is_answered_and_enter_waits_for_it(
    page: Page, sign_in, washed, owner
):
    sign_in(page, owner)
    page.goto("/week/")
    asked: list[Route] = []

    def keep(route: Route) -> None:
        asked.append(route)

    page.route("**/*by=15", keep)
    page.locator(".board .strip a").first.focus()
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Enter")
    told = page.locator("#dropped")
    expect(told).to_have_text("Asking whether it fits ...")
    expect(page).to_have_url("/week/")
    page.keyboard.press("Shift+ArrowRight")
    expect(told).to_contain_text("Tuesday at 09:30")
    asked[0].fulfill(body="It comes too late.")
    page.wait_for_timeout(300)
    expect(told).to_contain_text("Tuesday at 09:30")
    page.keyboard.press("Enter")
    expect(page.locator(".by-hand")).to_contain_text(
        "“Maintenance wash” on Tuesday at 09:30"
    )


FRIDAY = (28, "07:30", "12:00", [("j1.port-as-she-lies", "09:30", "10:55")])


def test_film_that_is_wet_or_sets_is_not_dragged(page: Page, sign_in, owner):
    plans.coat(plans.outfit())
    plans.draft([FRIDAY])
    sign_in(page, owner)
    page.goto("/week/")
    for kind in ("film", "film-edge"):
        pull(page, 14, f".board .strip a rect.{kind}")
        assert page.locator(".board .strip a[transform]").count() == 0
        # Let go beside it: on its own link that would be a click.
        page.mouse.move(2, 2)
        page.mouse.up()
    film = page.locator(".board .strip a", has=page.locator("rect.film")).first
    film.focus()
    page.keyboard.press("Shift+ArrowRight")
    expect(page.locator("#dropped")).to_be_empty()
    drag(page, 14)
    expect(page.locator("#dropped")).to_contain_text(
        "“Spray port, two coats” on Friday"
    )


def test_who_is_signed_out_meanwhile_is_led_to_sign_in(
    page: Page, sign_in, washed, owner
):
    sign_in(page, owner)
    page.goto("/week/")
    page.context.clear_cookies()
    drag(page, 14)
    expect(page).to_have_url("/sign-in/?next=/week/")
    expect(page.locator("#dropped")).to_have_count(0)
