"""Work that overran, on the owner's board: every offer has its tap or its link, at a desk and on a phone."""

import pytest
from playwright.sync_api import expect

from dispatch.actions import mends
from dispatch.records.models import Account, Job, Outfit
from tests.actions import plans
from tests.actions.test_overran import job, masked_until, standing
from tests.browser import looks

__all__ = ["job", "standing"]


@pytest.mark.parametrize("wide", [390, 1440])
def test_each_offer_is_a_tap_or_a_link(new_page, sign_in, standing, wide):
    masked_until("09:30")
    Outfit.objects.update(stands_at=plans.at(25, "09:31"))
    mends.price(str(standing.pk))
    page = new_page(width=wide, height=900)
    sign_in(page, Account.objects.get(role="owner"))
    page.goto("/week/2027-05-24/")
    snag = page.locator(".snag", has_text="instead of 55 min")
    if not snag.is_visible():
        page.locator(".snags details.fold summary").click()
    offers = snag.get_by_label("What else may be done").locator("li")
    expect(offers).to_have_count(2)
    expect(offers.first).to_contain_text("Tuesday at 09:35 with Plover")
    assert looks.amiss(page) == []
    snag.get_by_role("button", name="Grade her 3").click()
    expect(page.locator(".notice.success, .notice").first).to_contain_text(
        "The price stays as agreed"
    )
    assert Job.objects.get().grade == 3
