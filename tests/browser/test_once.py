"""A form is sent once, however often its button is tapped."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.records.models import Customer
from tests.actions import shop
from tests.web import people


@pytest.fixture
def form(page: Page, sign_in, transactional_db) -> Page:
    shop.outfit()
    sign_in(page, people.owner())
    page.goto("/customers/new/")
    page.get_by_label("Name", exact=True).fill("Ames")
    return page


def test_two_taps_add_one_customer(form):
    form.get_by_role("button", name="Add the customer").dblclick()
    expect(form.get_by_role("heading", level=1)).to_have_text("Ames")
    assert Customer.objects.filter(name="Ames").count() == 1


def test_after_what_was_wrong_is_said_the_form_goes_again(form):
    form.get_by_label("E-mail").first.fill("nobody")
    button = form.get_by_role("button", name="Add the customer")
    button.click()
    expect(form.locator(".fault").first).to_be_visible()
    form.get_by_label("E-mail").first.fill("")
    button.click()
    expect(form.get_by_role("heading", level=1)).to_have_text("Ames")


def test_back_from_the_next_page_it_can_be_sent_again(form):
    form.get_by_role("button", name="Add the customer").click()
    expect(form.get_by_role("heading", level=1)).to_have_text("Ames")
    form.go_back()
    form.get_by_label("Name", exact=True).fill("Okafor")
    form.get_by_role("button", name="Add the customer").click()
    expect(form.get_by_role("heading", level=1)).to_have_text("Okafor")
