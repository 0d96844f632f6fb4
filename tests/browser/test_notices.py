"""The owner settles on a phone what became of a message; the page fits and nothing serious is in the way."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.notices import outbox
from dispatch.records.models import Customer, JobKind, Notice, Reply
from tests.actions import shop
from tests.browser import looks
from tests.web import people

pytestmark = pytest.mark.timeout(120)
PAGE = "/messages/"
STATES = {
    "unknown": "the line broke (ReadTimeout)",
    "refused": "550 5.1.1 no such box",
    "waiting": "",
    "sent": "202 number m-7",
}


@pytest.fixture
def owner(transactional_db):
    shop.outfit()
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    boat = shop.boat(shop.driveway())
    job = boat.jobs.create(key="j1", kind=kind, taken_at=shop.NOW)
    for state, said in STATES.items():
        fact = outbox.Fact(
            reason="moved",
            fact=f"j1 visit {state}",
            version="1",
            to_whom=boat.customer,
            job=job,
            subject="Second Wind: we come Monday",
            body="Second Wind: our crew will be with you at Marrow Road Mon 24 May between 08:10 and 09:10.",
            due_at=shop.NOW,
        )
        made = outbox.put(fact, channel="text", to="+12075550131")
        Notice.objects.filter(pk=made.pk).update(state=state, said=said)
    Notice.objects.filter(state="sent").update(
        delivery="failed", delivery_at=shop.NOW, number="m-7"
    )
    Reply.objects.create(
        plugin="notify_sms_http",
        sender="+12075550131",
        text="Stop",
        at=shop.NOW,
        customer=boat.customer,
    )
    Customer.objects.update(text_stopped_at=shop.NOW)
    return people.owner()


def test_what_did_not_arrive_and_who_wrote_stop_is_told_in_words(
    phone: Page, sign_in, owner
):
    sign_in(phone, owner)
    phone.goto(PAGE)
    expect(phone.locator("#replies")).to_contain_text("What people wrote back")
    expect(phone.locator("main")).to_contain_text("No more texts STOP came in")
    expect(phone.locator("main")).to_contain_text("Did not arrive The channel told so")
    assert looks.wider_than_the_screen(phone) == 0


def test_a_message_that_did_not_come_goes_out_again(phone: Page, sign_in, owner):
    sign_in(phone, owner)
    phone.goto("/week/")
    phone.get_by_role("link", name="Messages").tap()
    expect(phone.locator("main")).to_contain_text("Ask whether these came")
    phone.get_by_role("button", name="It did not come").tap()
    expect(phone.get_by_role("status").first).to_contain_text("It goes out again")
    assert not Notice.objects.filter(state="unknown").exists()
    assert Notice.objects.filter(state="waiting").count() == 2


@pytest.mark.parametrize("width", [1440, 390])
def test_the_page_fits_and_nothing_serious_stands_in_the_way(
    new_page, sign_in, owner, width
):
    page = new_page(width=width)
    sign_in(page, owner)
    page.goto(PAGE)
    assert looks.amiss(page) == []


def test_a_message_that_went_out_is_unfolded_by_keyboard_alone(
    page: Page, sign_in, owner
):
    Notice.objects.update(delivery="")
    sign_in(page, owner)
    page.goto(PAGE)
    line = page.get_by_role("region", name="Sent").locator("summary")
    body = page.get_by_role("region", name="Sent").get_by_text("our crew will be")
    expect(body).to_be_hidden()
    line.focus()
    page.keyboard.press("Enter")
    expect(body).to_be_visible()
    assert looks.amiss(page) == []


def test_what_needs_the_owner_is_read_before_anything_is_scrolled(
    phone: Page, sign_in, owner
):
    sign_in(phone, owner)
    phone.goto(PAGE)
    needs = phone.get_by_role("list", name="What needs you").get_by_role("link")
    expect(needs).to_have_text(["1 to ask about", "1 that did not arrive", "1 refused"])
    assert all(one.bounding_box()["y"] < 844 for one in needs.all())
    phone.get_by_role("link", name="1 to ask about").tap()
    expect(phone.get_by_role("heading", name="Ask whether")).to_be_in_viewport()
