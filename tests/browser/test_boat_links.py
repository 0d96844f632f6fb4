"""The owner copies a boat's link, at a desk and on a phone; without a script it can still be marked."""

import pytest
from playwright.sync_api import expect

from tests.actions import plans
from tests.browser import looks
from tests.web import people

LINKS = "/week/links/"


@pytest.fixture
def owner(transactional_db):
    plans.coat(plans.outfit())
    return people.owner()


def test_copy_puts_the_link_on_the_clipboard_and_says_so(page, sign_in, owner):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    sign_in(page, owner)
    page.goto(LINKS)
    button = page.get_by_role("button", name="Copy the link to Second Wind")
    button.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#copied")).to_contain_text("Copied")
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied == page.get_by_label("Link", exact=True).input_value()
    page.goto(copied[copied.index("/boat/") :])
    expect(page.get_by_role("heading", name="Second Wind", exact=True)).to_be_visible()


def test_where_the_browser_refuses_the_text_stands_marked(page, sign_in, owner):
    sign_in(page, owner)
    page.goto(LINKS)
    page.evaluate("() => { navigator.clipboard.writeText = () => Promise.reject(); }")
    page.get_by_role("button", name="Copy the message about Second Wind").click()
    expect(page.locator("#copied")).to_contain_text("press Ctrl-C")
    marked = page.evaluate(
        "document.activeElement.value.slice(document.activeElement.selectionStart, document.activeElement.selectionEnd)"
    )
    assert marked.startswith("Second Wind: where she stands")


def test_nothing_serious_stands_in_the_way_on_a_phone(phone, sign_in, owner):
    sign_in(phone, owner)
    phone.goto(LINKS)
    assert looks.amiss(phone) == []
    message = phone.get_by_role("button", name="Copy the message about Second Wind")
    expect(message).to_be_hidden()
    phone.get_by_text("The link as a message, ").tap()
    expect(message).to_be_visible()
    assert looks.amiss(phone) == []
