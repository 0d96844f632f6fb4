"""A boat's page on her owner's phone, opened by its link."""

from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import reporting, show_boat
from tests.actions import posted
from tests.browser import looks


@pytest.fixture
def link(transactional_db):
    job = posted.sprayed(price_cents=136000)
    posted.warm(job.boat.place)
    rider, stage = posted.person("teague"), job.stages.get(key="port")
    day = posted.van_day(rider)
    posted.visit(day, stage, "10:00", 90)
    posted.visit(day, job.stages.get(key="starboard"), "14:00", 90)
    posted.stand("12:00")
    reporting.finish(stage, rider, posted.at("11:30"))
    return urlsplit(show_boat.link(job)).path


@pytest.fixture
def hers(phone: Page, link) -> Page:
    phone.goto(link)
    return phone


def test_an_answer_is_given_by_finger_without_script(new_page, link):
    bare = new_page(width=390, height=844, has_touch=True, java_script_enabled=False)
    bare.goto(link)
    bare.get_by_label("A word with it").fill("The key is under the mat")
    bare.get_by_role("button", name="The gate is open").tap()
    expect(bare.get_by_role("status")).to_have_text("Thank you, we have it.")
    expect(bare.locator(".answered")).to_contain_text('"The key is under the mat"')


def test_she_reads_where_the_boat_stands_and_what_comes_next(hers):
    expect(hers.locator(".stands")).to_contain_text("Port side sprayed and setting")
    expect(hers.get_by_text("today between 13:45 and 14:45")).to_be_visible()
    expect(hers.get_by_text("Do not touch, wash or cover her")).to_be_visible()


def test_the_drawing_hatches_the_side_that_is_wet_and_says_so(hers):
    drawing = hers.locator("svg.boat-draw")
    assert "Port side: wet. Starboard side: bare." in drawing.get_attribute(
        "aria-label"
    )
    fills = drawing.locator("path.part").evaluate_all(
        "parts => parts.map(part => getComputedStyle(part).fill)"
    )
    assert "#wet" in fills[0]
    assert all("#wet" not in fill for fill in fills[1:])


def test_it_is_read_on_a_phone_with_nothing_serious_in_the_way(hers):
    assert looks.wider_than_the_screen(hers) == 0
    assert looks.serious_in_any_light(hers) == []


def test_a_link_that_opens_nothing_is_a_plain_page(phone, link):
    answer = phone.goto("/boat/nothing/")
    assert answer.status == 404
    expect(phone.get_by_role("heading")).to_have_text("This link opens nothing")
    assert looks.serious(phone) == []
