"""The book in a real browser: a walk-round by finger on a phone, lists and cards by keyboard, everything named."""

from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import book
from dispatch.records.models import Boat, Job, JobKind
from tests.actions import pictures, shop
from tests.browser import looks
from tests.web import people

PAGES = (
    "/book/",
    "/walk-round/",
    "/customers/",
    "/customers/new/",
    "/boats/",
    "/boats/second-wind/card/",
    "/jobs/j1/terms/",
)
# What a phone's own sensor would tell: 90° anticlockwise of north is heading 270.
TURNED = """() => window.dispatchEvent(new DeviceOrientationEvent(
    'deviceorientationabsolute', { alpha: 90, absolute: true }))"""


@pytest.fixture
def job(transactional_db, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    shop.outfit()
    shop.catalogue()
    return book.take_job(
        key="j1",
        boat=shop.boat(shop.driveway()),
        kind=JobKind.objects.get(key="spray-coat"),
        sheet=shop.one_part(),
    )


@pytest.fixture
def desk(page: Page, sign_in, job) -> Page:
    sign_in(page, people.owner())
    return page


@pytest.fixture
def small(phone: Page, sign_in, job) -> Page:
    sign_in(phone, people.owner())
    return phone


@pytest.mark.parametrize("path", ["/book/", "/boats/"])
@pytest.mark.parametrize("width", [390, 1024])
def test_a_boats_name_stands_in_one_line_of_a_list(
    page: Page, sign_in, job, path, width
):
    Boat.objects.update(name="Rosalind's Oath", heading_deg=85)
    Job.objects.update(key="j11", fixed_start=datetime(2027, 5, 27, 13, 45, tzinfo=UTC))
    page.set_viewport_size({"width": width, "height": 844})
    sign_in(page, people.owner())
    page.goto(path)
    name = page.get_by_role("link", name="Rosalind's Oath")
    lines = name.evaluate("""link => {
        const words = document.createRange();
        words.selectNodeContents(link);
        return new Set([...words.getClientRects()].map(box => box.top)).size;
    }""")
    assert lines == 1
    assert looks.wider_than_the_screen(page) == 0


def test_a_heading_is_said_in_three_figures(desk):
    Boat.objects.update(heading_deg=5, heading_reference="true")
    desk.goto("/boats/")
    expect(desk.get_by_text("005° true", exact=True)).to_be_visible()


@pytest.mark.parametrize("path", PAGES)
def test_on_a_phone_it_fits_and_nothing_serious_stands_in_the_way(small, path):
    small.goto(path)
    assert looks.wider_than_the_screen(small) == 0
    assert looks.serious_in_any_light(small) == []
    # A tick is tapped by its label.
    boxes = "#main input[type=checkbox]"
    small.eval_on_selector_all(boxes, "all => all.forEach(one => one.hidden = true)")
    assert looks.small_targets(small, "#main") == []


def test_a_walk_round_by_finger_hides_what_is_known_and_takes_the_compass(small):
    small.goto("/walk-round/")
    expect(small.get_by_label("Length, ft")).to_be_visible()
    small.get_by_label("Customer in the book").select_option("Ames")
    expect(small.get_by_label("Phone")).to_be_hidden()
    small.get_by_label("Place in the book").select_option("Marrow Road")
    expect(small.get_by_label("Latitude")).to_be_hidden()
    small.locator("[name='boat.name']").fill("Third Time")
    small.get_by_label("Length, ft").fill("18")
    small.context.grant_permissions(["accelerometer", "gyroscope", "magnetometer"])
    small.get_by_role("button", name="Read the compass").tap()
    expect(small.get_by_role("button", name="Take this heading")).to_be_visible()
    small.evaluate(TURNED)
    expect(small.get_by_text("270° by compass")).to_be_visible()
    small.get_by_role("button", name="Take this heading").tap()
    expect(small.get_by_label("Heading of her bow")).to_have_value("270")
    small.get_by_label("Kind of job").select_option("Maintenance wash")
    small.get_by_role("button", name="Reckon it").tap()
    expect(small.get_by_role("heading", name="Reckoned, not stored")).to_be_visible()
    assert not Boat.objects.filter(name="Third Time").exists()
    small.get_by_role("button", name="Keep it as asked for").tap()
    expect(small.get_by_role("heading", level=1)).to_have_text(
        "Third Time: maintenance wash"
    )
    boat = Boat.objects.get(name="Third Time")
    assert (boat.heading_deg, boat.heading_reference) == (270, "magnetic")


def test_photos_chosen_before_it_is_reckoned_are_kept_all_the_same(small, tmp_path):
    file = tmp_path / "bow.jpg"
    file.write_bytes(pictures.jpeg())
    small.goto("/walk-round/")
    small.get_by_label("All sides, and what is chipped").set_input_files(file)
    small.get_by_label("Customer in the book").select_option("Ames")
    small.get_by_label("Place in the book").select_option("Marrow Road")
    small.locator("[name='boat.name']").fill("Third Time")
    small.get_by_label("Kind of job").select_option("Maintenance wash")
    small.get_by_role("button", name="Keep it as asked for").tap()
    expect(small.get_by_role("alert")).to_contain_text("another look")
    assert not Boat.objects.filter(name="Third Time").exists()
    small.get_by_label("Length, ft").fill("18")
    small.get_by_role("button", name="Reckon it").tap()
    expect(small.get_by_role("heading", name="Reckoned, not stored")).to_be_visible()
    expect(small.get_by_label("Phone")).to_be_hidden()
    small.get_by_role("button", name="Keep it as asked for").tap()
    expect(small.get_by_role("heading", level=1)).to_have_text(
        "Third Time: maintenance wash"
    )
    assert Boat.objects.get(name="Third Time").photos.count() == 1


def test_a_price_is_never_broken_in_two_and_the_head_is_one_row(new_page, sign_in, job):
    Job.objects.update(price_cents=12_345_600)
    narrow = new_page(width=1024)
    sign_in(narrow, people.owner())
    narrow.goto("/book/")
    lines = "one => { const r = new Range(); r.selectNodeContents(one); return r.getClientRects().length }"
    price = narrow.get_by_role("cell", name="$123,456").locator(".cell-said")
    assert price.evaluate(lines) == 1
    assert narrow.locator(".top").bounding_box()["height"] < 70


def test_a_job_found_and_put_off_by_keyboard_alone(desk):
    desk.goto("/book/")
    desk.get_by_label("Boat, customer, place or kind").focus()
    desk.keyboard.type("ames")
    desk.keyboard.press("Enter")
    desk.get_by_role("link", name="Second Wind").focus()
    desk.keyboard.press("Enter")
    desk.get_by_label("Reason").first.focus()
    desk.keyboard.type("Engine first")
    desk.get_by_role("button", name="Put off, lay her up").focus()
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("status")).to_contain_text("put off now")
    assert Job.objects.get().state == "put-off"
