"""The crew's day on a phone in a real browser: read it, start, finish, by finger and by keyboard."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Can, Forecast, Hold, Photo, Sheet, Stage
from tests.actions import pictures, plans, posted
from tests.browser import looks
from tests.web import people

GUST = "gust 21 mph, limit 14 mph"


@pytest.fixture
def port(transactional_db):
    job = posted.sprayed()
    posted.warm(job.boat.place)
    done = Stage.objects.filter(job=job, key="mask")
    done.update(state="done", ended_at=posted.at("10:00"))
    day = posted.van_day(people.crew().person, posted.person("teague", "spray-1"))
    posted.visit(day, job.stages.get(key="starboard"), "13:00", 90)
    stage = job.stages.get(key="port")
    posted.visit(day, stage, "11:00", 90)
    posted.judged(stage)
    posted.judged(job.stages.get(key="starboard"), ("12:00", "14:10", GUST))
    posted.stand("11:10")
    return stage


@pytest.fixture
def mine(phone: Page, sign_in, port) -> Page:
    """The phone of somebody who rides, at the route."""
    rook = port.visit.van_day.team.get(key="rook").account
    sign_in(phone, rook)
    phone.goto("/route/")
    return phone


def test_the_next_visit_has_one_word_and_its_buttons_on_one_screen(mine):
    knot = mine.locator(".knot.next")
    expect(knot.locator(".big")).to_have_text("GO now")
    start = knot.get_by_role("button", name="Start Spray port")
    top = knot.bounding_box()["y"]
    end = start.bounding_box()["y"] + start.bounding_box()["height"]
    assert end - top < 600


def test_it_is_read_on_a_phone_and_nothing_serious_stands_in_the_way(mine):
    mine.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert looks.amiss(mine) == []


def test_on_paper_the_work_stands_open_as_of_its_hour_and_nothing_asks(mine):
    mine.evaluate("document.querySelectorAll('details').forEach(d => d.open = false)")
    work, word = mine.locator(".knot.next .steps"), mine.locator(".knot.next .word.go")
    expect(work).to_be_hidden()
    mine.emulate_media(media="print", color_scheme="dark")
    expect(work).to_be_visible()
    expect(mine.locator("#load .load")).to_be_visible()
    expect(mine.get_by_text("Printed as it stood Mon 24 May 11:10.")).to_be_visible()
    expect(mine.locator("form:visible")).to_have_count(0)
    # Paper has no ground of colour: pale letters would stand on white.
    expect(word).to_have_css("background-color", "rgba(0, 0, 0, 0)")
    ink = mine.locator("h1").evaluate("one => getComputedStyle(one).color")
    expect(word).to_have_css("color", ink)
    assert ink == "rgb(30, 43, 51)"


def test_what_is_wrong_is_told_with_a_photo_by_finger(mine, tmp_path, settings):
    settings.DATA_DIR = tmp_path
    file = tmp_path / "bow.jpg"
    file.write_bytes(pictures.jpeg())
    knot = mine.locator(".knot.next")
    knot.get_by_text("Something is wrong, or a photo").tap()
    knot.get_by_label("What the owner should know").fill("Runs at the bow")
    knot.get_by_label("Photos").set_input_files(file)
    knot.get_by_role("button", name="Tell the owner").tap()
    expect(mine.get_by_role("status")).to_contain_text("The owner sees it")
    assert Photo.objects.get().words == "Spray port, two coats: Runs at the bow"


def test_the_dial_turns_with_the_hull_and_says_the_same_in_words(mine):
    dial = mine.locator(".knot.next svg.dial")
    assert "heads 085° true" in dial.get_attribute("aria-label")
    assert dial.locator("g").get_attribute("transform") == "rotate(85.0 120 120)"
    hatched = dial.locator("path.side").evaluate_all(
        "paths => paths.map(path => path.getAttribute('fill'))"
    )
    words = mine.locator(".knot.next .sides li").all_inner_texts()
    for fill, said in zip(hatched, words, strict=False):
        assert ("in shade" in said) is (fill == "url(#in-shade)")


def test_a_limit_broken_shows_its_numbers(mine):
    later = mine.locator(".knot", has=mine.get_by_text("Spray starboard"))
    expect(later.locator(".big")).to_have_text("WAIT until 14:10")
    expect(later.locator(".word")).to_contain_text(GUST)


def test_start_and_done_by_finger(mine, port):
    mine.get_by_role("button", name="Start Spray port").tap()
    expect(mine.locator(".knot.next")).to_contain_text("Started Mon 11:10")
    posted.stand("12:40")
    mine.get_by_label("Product used, oz").last.fill("14.5")
    mine.get_by_role("button", name="Done: Spray port").tap()
    knot = mine.locator(f"#visit-{port.visit.pk}")
    expect(knot).to_contain_text("Done Mon 12:40")
    expect(knot).to_contain_text("Sandable about Tue 02:4")
    assert Hold.objects.filter(stage=port, planned=False).count() == 2


def test_the_first_coat_by_finger(mine, port):
    # Of a fresh forecast; an old one leaves less time.
    Forecast.objects.update(issued_at=plans.at(24, "10:00"))
    Can.objects.create(sheet=Sheet.objects.get(), left_ml=300)
    mine.get_by_role("button", name="Start Spray port").tap()
    posted.stand("11:40")
    mine.get_by_label("Product used, oz").last.fill("7")
    mine.get_by_role("button", name="First coat on: Spray port").tap()
    knot = mine.locator(f"#visit-{port.visit.pk}")
    expect(knot).to_contain_text("Second coat by Mon 17:")
    expect(knot.get_by_label("Product used by the second coat, oz")).to_be_visible()
    # 300 ml less 7 oz: 93 ml, 3.1 oz.
    expect(knot.locator(".big")).to_have_text("STOP")
    expect(knot.locator(".word.no")).to_contain_text("Stop before coat 2")
    expect(knot.locator(".word.no")).to_contain_text("3.1\xa0oz is there")
    assert looks.amiss(mine) == []
    assert looks.wider_than_the_screen(mine) == 0
    assert port.laid.get().coat == 1


def test_start_by_keyboard_alone(mine, port):
    for _ in range(40):
        mine.keyboard.press("Tab")
        if mine.evaluate("document.activeElement.value") == "start":
            break
    mine.keyboard.press("Enter")
    expect(mine.locator(".knot.next")).to_contain_text("Started Mon 11:10")


def test_a_refusal_stands_at_its_visit(mine, port):
    form = mine.locator(".knot.next form").first
    form.get_by_label("At another time than now").fill("11:30")
    form.get_by_role("button", name="Start Spray port").tap()
    alert = mine.get_by_role("alert")
    expect(alert).to_contain_text("Mon 11:30 has not come yet; it is Mon 11:10")
    expect(alert).to_be_focused()
    expect(form.get_by_label("At another time than now")).to_have_value("11:30")
    expect(mine.locator(".knot.next")).to_contain_text("has not come yet")
    port.refresh_from_db()
    assert port.state == "to-do"


def test_what_is_read_on_the_hull_is_stored_by_finger(mine, port):
    knot = mine.locator(".knot.next")
    knot.locator("summary", has_text="Read the hull").tap()
    knot.get_by_label("Hull, °F").fill("61")
    knot.get_by_label("Humidity, %").fill("78")
    knot.get_by_role("button", name="Store what was read").tap()
    expect(knot.locator(".big")).to_have_text("WAIT")
    expect(knot).to_contain_text("She was read at 11:10")
    knot.locator("summary", has_text="Read the hull: 1 read").tap()
    expect(knot.locator(".read")).to_contain_text(
        "hull 61\N{NO-BREAK SPACE}°F, humidity 78\N{NO-BREAK SPACE}%"
    )
