"""A place's page in a real browser: read on a phone, changed by keyboard and by finger, everything named."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Closure, HistoryEntry, Place
from tests.actions import plans, shop
from tests.browser import looks
from tests.web import people


@pytest.fixture
def place(transactional_db):
    shop.outfit()
    return shop.driveway(
        neighbours=[{"what": "Car", "bearing_deg": 45, "distance_m": 6.7056}],
        horizon=[{"from_deg": 240, "to_deg": 300, "elevation_deg": 8}],
    )


@pytest.fixture
def desk(page: Page, sign_in, place) -> Page:
    sign_in(page, people.owner())
    page.goto("/places/s5/")
    return page


@pytest.fixture
def small(phone: Page, sign_in, place) -> Page:
    sign_in(phone, people.owner())
    phone.goto("/places/s5/")
    return phone


@pytest.mark.parametrize("path", ["/places/", "/places/s5/"])
def test_on_a_phone_it_fits_and_nothing_serious_stands_in_the_way(small, path):
    small.goto(path)
    assert looks.wider_than_the_screen(small) == 0
    assert looks.serious_in_any_light(small) == []
    # A tick is tapped by its label.
    boxes = "#main input[type=checkbox]"
    small.eval_on_selector_all(boxes, "all => all.forEach(one => one.hidden = true)")
    assert looks.small_targets(small, "#main") == []
    for label in small.locator("label.tick").all():
        assert label.bounding_box()["height"] >= looks.TAP_PX


def test_the_heat_rule_by_keyboard_alone(desk, place):
    desk.get_by_label("Heat is judged by").focus()
    desk.keyboard.type("WBGT")
    desk.get_by_label("Reason").focus()
    desk.keyboard.type("The state's rule")
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("main")).to_contain_text("now wbgt, estimated")
    place.refresh_from_db()
    assert place.heat_rule == "wbgt"
    assert HistoryEntry.objects.get(verb="set-place").why == "The state's rule"


def test_hours_a_neighbour_and_a_shut_day_by_finger(small, place):
    monday = small.get_by_role("group", name="Hours, line 1", exact=True)
    monday.get_by_label("From").fill("08:00")
    near = small.get_by_role("group", name="Neighbours, line 2", exact=True)
    near.get_by_label("What").fill("Well")
    near.get_by_label("Bearing").fill("180")
    near.get_by_label("How far").fill("60")
    shut = small.get_by_role(
        "group", name="Shut, let in, tides and sprinklers, line 1", exact=True
    )
    shut.get_by_label("Why").fill("Paving")
    shut.get_by_label("From").fill("2027-05-26T07:00")
    shut.get_by_label("To", exact=True).fill("2027-05-26T18:00")
    small.get_by_role("button", name="Save the place").tap()
    expect(small.get_by_role("main")).to_contain_text("Well 60 ft off at 180°")
    assert len(Place.objects.get().neighbours) == 2
    assert Closure.objects.get().end == plans.at(26, "18:00")


def test_a_fault_stands_at_its_field_and_is_told(small, place):
    small.get_by_label("Latitude").fill("-123.4")
    small.get_by_role("button", name="Save the place").tap()
    expect(small.get_by_role("alert")).to_contain_text("1 field needs another look")
    field = small.get_by_label("Latitude")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_be_focused()
    expect(field).to_have_accessible_description(
        "Give a number from -90 to 90. Latitude and longitude may be swapped."
    )


def test_somebody_was_quicker_and_nothing_that_was_written_is_lost(small, place):
    small.get_by_label("At the gate").fill("Code 7")
    rules = small.get_by_label("The yard's own rules")
    rules.fill("Quiet before 8.")
    Place.objects.update(gate="Code 4", address="9 Marrow Road")
    small.get_by_role("button", name="Save the place").tap()
    told = small.get_by_role("alert")
    expect(told).to_contain_text("was changed while you were writing")
    expect(told).to_be_focused()
    expect(told).to_be_in_viewport()
    assert looks.serious_in_any_light(small) == []
    assert looks.wider_than_the_screen(small) == 0
    expect(rules).to_have_value("Quiet before 8.")
    expect(small.get_by_label("Address")).to_have_value("9 Marrow Road")
    gate = small.get_by_label("At the gate")
    expect(gate).to_have_value("Code 7")
    expect(gate).to_have_accessible_description(
        "It stands at “Code 4” now. Yours goes in its place when you save again."
    )
    told.get_by_role("link", name="At the gate").tap()
    expect(gate).to_be_in_viewport()
    small.get_by_role("button", name="Save the place").tap()
    expect(small.get_by_role("status")).to_contain_text("now Code 7 (was Code 4)")
    place.refresh_from_db()
    assert (place.gate, place.rules) == ("Code 7", "Quiet before 8.")
    assert place.address == "9 Marrow Road"
