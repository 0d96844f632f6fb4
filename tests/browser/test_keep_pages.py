"""Lists, history and pay in a real browser: on a phone, by keyboard, everything named."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Customer
from tests.browser import looks
from tests.web import people
from tests.web.owner.test_crew_pages import house, wanting

__all__ = ["house", "wanting"]
PAGES = (
    "/lists/",
    "/lists/customers/",
    "/history/",
    "/pay/",
    "/minutes/",
    "/money/",
    "/jobs/j1/money/",
)
NEW = b"Number,Name,Time zone\r\n,Okafor,America/New_York\r\n"


@pytest.fixture
def desk(page: Page, sign_in, transactional_db, wanting) -> Page:
    sign_in(page, people.owner())
    return page


@pytest.fixture
def small(phone: Page, sign_in, transactional_db, wanting) -> Page:
    sign_in(phone, people.owner())
    return phone


def test_on_a_phone_nothing_moves_sideways_and_nothing_stands_in_the_way(small):
    for path in PAGES:
        small.goto(path)
        assert looks.amiss(small) == [], path


def test_a_list_is_tried_and_then_brought_in_by_keyboard(desk):
    desk.goto("/lists/customers/")
    desk.get_by_label("CSV file").set_input_files(
        {"name": "a.csv", "mimeType": "text/csv", "buffer": NEW}
    )
    desk.get_by_role("button", name="Try it").focus()
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("status")).to_contain_text("1 new, 0 changed")
    assert not Customer.objects.filter(name="Okafor").exists()
    desk.get_by_role("button", name="Bring it in").focus()
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("status")).to_contain_text("1 row new or changed")
    assert Customer.objects.filter(name="Okafor").exists()


def test_a_spreadsheets_own_file_with_a_wrong_row_says_which_and_then_comes_in(
    small, tmp_path
):
    file = tmp_path / "customers.csv"
    head = "\ufeffNumber;Name;Phone\r\n"
    file.write_text(f"{head};Øystein Tamm;12\r\n;Bright;\r\n;Bright;\r\n", "utf-8")
    small.goto("/lists/customers/")
    small.get_by_label("CSV file").set_input_files(file)
    small.get_by_role("button", name="Try it").tap()
    expect(small.get_by_role("row").filter(has_text="Row 2")).to_contain_text(
        "Phone: Write the number with its country"
    )
    expect(small.get_by_role("row").filter(has_text="Row 4")).to_contain_text(
        "The same new row stands twice."
    )
    assert looks.wider_than_the_screen(small) == 0
    file.write_text(f"{head};Øystein Tamm;+12075550112\r\n", "utf-8")
    small.get_by_label("CSV file").set_input_files(file)
    small.get_by_role("button", name="Try it").tap()
    small.get_by_role("button", name="Bring it in").tap()
    expect(small.get_by_role("status")).to_contain_text("1")
    assert Customer.objects.get(name="Øystein Tamm").phone == "+12075550112"


def test_a_deposit_is_put_down_by_finger(small):
    small.goto("/jobs/j1/money/")
    small.get_by_text("Put down a payment").tap()
    small.locator("#payment-cents").fill("200")
    small.get_by_role("button", name="Add the payment").tap()
    expect(small.get_by_role("main")).to_contain_text("payment, $200")


def test_on_a_phone_the_name_of_the_page_one_is_on_is_in_sight(small):
    small.goto("/plugins/")
    here = small.locator(".top nav [aria-current]")
    expect(here).to_be_in_viewport(ratio=1)
    assert small.locator(".top").bounding_box()["height"] < 110
