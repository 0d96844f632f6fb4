"""A gate that is locked, on a phone: the wait and its end, with signal and without; the owner's snag with the photo."""

from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import book, shut_out
from dispatch.records.models import Customer, Setting, ShutOut
from tests.actions import pictures, posted, shop
from tests.browser import looks
from tests.browser.test_no_signal import KEPT
from tests.web import people

CAME = datetime(2027, 5, 24, 13, 12, tzinfo=UTC)  # 09:12 at the boat


@pytest.fixture(autouse=True)
def _kept_here(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def prep(transactional_db):
    job = posted.sprayed()
    Customer.objects.update(phone="+12075550123")
    posted.warm(job.boat.place)
    stage = job.stages.get(key="prep")
    posted.judged(stage)
    day = posted.van_day(people.crew().person)
    posted.visit(day, stage, "09:00", 120)
    lane = shop.driveway(key="lane", name="Quarry Lane", latitude=44.14)
    posted.warm(lane)
    hull = shop.boat(lane, key="curlew", name="Curlew")
    other = book.take_job(key="j2", boat=hull, kind=job.kind, sheet=job.sheet)
    later = other.stages.get(key="prep")
    posted.judged(later)
    posted.visit(day, later, "14:00", 120)
    posted.stand("09:12")
    return stage


@pytest.fixture
def mine(phone: Page, sign_in, prep, complaints) -> Page:
    """The phone of somebody who rides, its route kept."""
    sign_in(phone, prep.visit.van_day.team.get().account)
    phone.clock.set_fixed_time(CAME)
    phone.goto("/route/")
    phone.wait_for_function(KEPT.replace("length", "length > 0"))
    phone.reload()
    yield phone
    # The browser itself tells of every request that found no signal.
    complaints[:] = [
        one for one in complaints if "ERR_INTERNET_DISCONNECTED" not in one
    ]


def begin(phone: Page) -> None:
    knot = phone.locator(".knot.next")
    knot.locator("details.shut-out summary").tap()
    phone.get_by_role("button", name="Cannot get to Second Wind: start the wait").tap()


def test_the_wait_is_told_with_its_end_and_the_choice_comes_by_itself(mine, prep):
    begin(mine)
    expect(mine.locator(".knot.next .big")).to_have_text("WAIT until 09:22")
    section = mine.get_by_label("Cannot get to Second Wind", exact=True)
    expect(section.get_by_role("link", name="Call Ames")).to_have_attribute(
        "href", "tel:+12075550123"
    )
    leave = mine.get_by_role("button", name="Leave Second Wind, held for the owner")
    expect(leave).to_be_hidden()
    assert looks.amiss(mine) == []
    mine.clock.set_fixed_time(CAME + timedelta(minutes=10))
    expect(leave).to_be_visible()
    posted.stand("09:22")
    leave.tap()
    expect(mine.locator(".shut-out h3")).to_have_text("Go to")
    expect(mine.locator(".shut-out .near")).to_contain_text("Curlew, Quarry Lane")
    expect(mine.locator(".knot.next h2")).to_contain_text("Curlew")
    assert looks.amiss(mine) == []


def test_the_photo_of_the_gate_is_sent(mine, prep):
    begin(mine)
    field = mine.get_by_label("Photo of the gate at Second Wind").first
    field.set_input_files(
        {"name": "gate.jpg", "mimeType": "image/jpeg", "buffer": pictures.jpeg()}
    )
    mine.get_by_role("button", name="Send the photo of the gate").tap()
    expect(mine.locator("section.shut-out")).to_contain_text(
        "Photo of the gate, 1 sent"
    )


def test_without_signal_the_wait_its_end_and_the_leaving_are_kept_in_order(mine, prep):
    mine.context.set_offline(True)
    begin(mine)
    heard = mine.locator("#heard")
    expect(heard).to_contain_text("Wait until 09:22; then go on or leave here.")
    leave = heard.get_by_role("button", name="Leave Second Wind, held for the owner")
    expect(leave).to_have_count(0)
    mine.clock.set_fixed_time(CAME + timedelta(minutes=12))
    expect(leave).to_be_visible()
    assert looks.wider_than_the_screen(mine) == 0
    leave.tap()
    expect(leave).to_have_count(0)
    expect(heard).to_contain_text("held for the owner, 09:24")
    expect(heard).to_contain_text("is not known without signal: call the owner")
    posted.stand("11:00")
    mine.context.set_offline(False)
    expect(mine.locator(".shut-out h3")).to_have_text("Go to", timeout=40_000)
    row = ShutOut.objects.get()
    assert (row.since, row.left_at) == (posted.at("09:12"), posted.at("09:24"))


def test_a_phone_whose_clock_is_wrong_tells_the_right_end(mine, prep):
    """47 minutes fast since before its page came in."""
    mine.evaluate("() => localStorage.clear()")
    mine.clock.set_fixed_time(CAME + timedelta(minutes=47))
    mine.reload()
    mine.context.set_offline(True)
    begin(mine)
    heard = mine.locator("#heard")
    expect(heard).to_contain_text("Second Wind: start the wait, 09:12.")
    expect(heard).to_contain_text("Wait until 09:22")
    mine.clock.set_fixed_time(CAME + timedelta(minutes=57))
    more = heard.get_by_role("button", name="Wait 10 min more for Second Wind")
    more.tap()
    expect(heard).to_contain_text("Wait until 09:32")


@pytest.mark.parametrize("wide", [390, 1440])
def test_the_owner_sees_the_snag_and_puts_the_fee(new_page, sign_in, prep, wide):
    rook = prep.visit.van_day.team.get()
    Setting.objects.create(name="prices.in_vain_cents", value=6000)
    posted.stand("09:24")
    shut_out.wait(prep, rook, posted.at("09:12"))
    shut_out.show(prep, rook, [pictures.jpeg()])
    shut_out.leave(prep, rook, posted.at("09:24"))
    page = new_page(width=wide, height=900)
    sign_in(page, people.owner())
    page.goto("/week/2027-05-24/")
    snag = page.locator(".snag", has_text="could not get to her")
    expect(snag.get_by_alt_text("Photo 1 of Second Wind")).to_be_visible()
    snag.get_by_role("button", name="Put $60.00 on her job").click()
    expect(snag).to_contain_text("$60.00 for it is on her job.")
    assert looks.wider_than_the_screen(page) == 0
    assert snag.get_by_role("link", name="Call Ames").is_visible()
    snag.get_by_role("button", name="She can be got to").click()
    expect(page.locator(".snag", has_text="could not get to her")).to_have_count(0)
