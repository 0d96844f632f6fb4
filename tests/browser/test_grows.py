"""Where the owner writes sentences the field grows with them, on a phone too, and Enter sends it as from one line."""

import pytest
from playwright.sync_api import Page, expect

from dispatch.actions import access
from dispatch.records.models import HistoryEntry, Job
from tests.actions import plans
from tests.browser import looks
from tests.web import people

pytestmark = pytest.mark.timeout(120)
LONG = "The yard paves its lane from Tuesday on and lets nobody in before nine, says the harbor office. "
WHOLE = "field => field.scrollHeight <= field.clientHeight && field.scrollWidth <= field.clientWidth"


@pytest.fixture
def hers(phone: Page, sign_in, transactional_db) -> Page:
    """The owner's phone, 390 pixels wide."""
    plans.wash(plans.outfit())
    sign_in(phone, people.owner())
    return phone


def test_a_long_reason_is_seen_whole_and_sent_by_enter(hers):
    hers.goto("/settings/spray/")
    hers.get_by_label("Steady wind at most", exact=True).fill("8")
    reason = hers.get_by_label("Reason")
    low = reason.bounding_box()["height"]
    reason.fill(LONG * 3)
    assert reason.evaluate(WHOLE)
    assert reason.bounding_box()["height"] > 2 * low >= looks.TAP_PX
    reason.press("Enter")
    expect(hers.get_by_role("status").first).to_contain_text(
        "1 number set", timeout=15_000
    )
    assert HistoryEntry.objects.get(verb="set").why == (LONG * 3).strip()


def test_a_place_shows_its_whole_address(hers):
    hers.goto("/places/s5/")
    gate = hers.get_by_label("At the gate")
    gate.fill(LONG)
    assert gate.evaluate(WHOLE)
    gate.press("Enter")
    expect(hers.get_by_role("status").first).to_contain_text("Set: ", timeout=15_000)
    assert looks.wider_than_the_screen(hers) == 0


def test_a_boats_link_is_seen_whole(hers):
    hers.goto("/week/links/")
    link = hers.get_by_label("Link", exact=True).first
    assert link.evaluate(WHOLE)
    word = link.input_value().rstrip("/").rpartition("/")[2]
    assert access.job_of_link(word) == Job.objects.get()
