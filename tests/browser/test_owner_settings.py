"""The owner changes a rate and a step in a real browser: on a phone by keyboard alone, and at a desk."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import rates, settings
from dispatch.records.models import CatalogueRow, HistoryEntry, Setting
from tests.actions import plans
from tests.browser import looks
from tests.web import people

pytestmark = pytest.mark.timeout(120)
PAGES = (
    "/settings/",
    "/settings/spray/",
    "/settings/outfit/",
    "/settings/catalogue/",
    "/settings/catalogue/spray-coat/",
    "/settings/catalogue/wash/2/",
)
# The first save of a process asks a broker that is away before it answers.
LONGEST_MS = 15_000
# A tick's own target is the label around it.
FIELDS = "#main :is(.field, .cell, .reason, .buttons)"


@pytest.fixture
def owner(transactional_db):
    plans.outfit()
    return people.owner()


@pytest.fixture
def hers(phone: Page, sign_in, owner) -> Page:
    """The owner's phone, 390 pixels wide."""
    sign_in(phone, owner)
    return phone


def tab_to(page: Page, name: str) -> None:
    """Tab on until what has the focus is called so, and see that the focus shows."""
    for _ in range(120):
        page.keyboard.press("Tab")
        called, seen = page.evaluate(
            "() => { const e = document.activeElement;"
            " const label = e.labels && e.labels[0];"
            " return [(label || e).textContent.trim(), getComputedStyle(e).outlineStyle] }"
        )
        if called.startswith(name):
            assert seen != "none"
            return
    raise AssertionError(f"The keyboard never reaches {name}.")


def test_a_limit_is_changed_on_a_phone_by_keyboard_alone(hers):
    hers.goto("/week/")
    tab_to(hers, "Settings")
    hers.keyboard.press("Enter")
    expect(hers).to_have_url("/settings/")
    tab_to(hers, "117 numbers")
    hers.keyboard.press("Enter")
    tab_to(hers, "Spray")
    hers.keyboard.press("Enter")
    expect(hers).to_have_url("/settings/spray/")
    tab_to(hers, "Steady wind at most")
    hers.keyboard.type("8")
    tab_to(hers, "Reason")
    hers.keyboard.type("exposed corner")
    hers.keyboard.press("Enter")
    expect(hers.get_by_role("status").first).to_contain_text(
        "1 number set", timeout=LONGEST_MS
    )
    assert HistoryEntry.objects.get(verb="set").sentence == (
        "Spray: “Steady wind at most” now 8 mph (was 10 mph)."
    )
    tab_to(hers, "Back to the default, 10 mph")
    hers.keyboard.press("Space")
    tab_to(hers, "Save the changes")
    hers.keyboard.press("Enter")
    expect(hers.get_by_label("Steady wind at most", exact=True)).to_have_value(
        "10", timeout=LONGEST_MS
    )
    assert not Setting.objects.exists()


def test_a_step_is_changed_on_a_phone_by_keyboard_alone(hers):
    hers.goto("/settings/catalogue/")
    tab_to(hers, "Maintenance wash")
    hers.keyboard.press("Enter")
    expect(hers).to_have_url("/settings/catalogue/wash/")
    tab_to(hers, "Wash")
    hers.keyboard.press("Enter")
    expect(hers).to_have_url("/settings/catalogue/wash/2/")
    tab_to(hers, "Grade 2")
    hers.keyboard.type("5")
    tab_to(hers, "Save the step")
    hers.keyboard.press("Enter")
    expect(hers.get_by_role("status").first).to_contain_text(
        "Wash is set", timeout=LONGEST_MS
    )
    assert CatalogueRow.objects.get(kind__key="wash", position=2).per_ft_2 == 5


def test_a_bad_value_is_told_at_its_field_and_named_to_those_who_listen(hers):
    hers.goto("/settings/spray/")
    field = hers.get_by_label("Air at least", exact=True)
    field.fill("lots")
    hers.get_by_role("button", name="Save the changes").tap()
    expect(hers.get_by_role("alert")).to_contain_text("Nothing was changed")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_value("lots")
    said = field.get_attribute("aria-describedby").split()[0]
    expect(hers.locator(f"[id='{said}']")).to_have_text(
        "Enter a number. From -76 to 140 °F; the default is 55 °F."
    )
    assert looks.serious(hers) == []
    assert not Setting.objects.exists()


@pytest.mark.parametrize("width", [1440, 390])
def test_every_page_fits_and_nothing_serious_stands_in_the_way(
    new_page, sign_in, owner, width
):
    settings.change("spray.wind_max_ms", 4.0, by=owner, why="exposed corner")
    page = new_page(width=width)
    sign_in(page, owner)
    for address in PAGES:
        page.goto(address)
        assert looks.amiss(page, within=FIELDS) == [], address


def test_the_first_page_shows_the_number_in_force(page, sign_in, owner):
    settings.change("spray.wind_max_ms", 4.0233, by=owner)
    sign_in(page, owner)
    page.goto("/settings/")
    row = page.get_by_role("row", name="Spray")
    expect(row).to_contain_text("9 / 14")
    expect(page.get_by_text("1 of them differs from the default")).to_be_visible()
    assert len(rates.listed()) > 130


def test_a_stranger_and_the_crew_are_refused(page, sign_in, owner):
    for address in PAGES:
        page.goto(address)
        expect(page, address).to_have_url(f"/sign-in/?next={address}")
    sign_in(page, people.crew())
    for address in PAGES:
        assert page.goto(address).status == 403, address
        said = page.get_by_text("Only the owner may do this")
        expect(said, address).to_be_visible()
