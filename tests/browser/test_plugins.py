"""The owner sets up mail in a real browser: on a phone by keyboard, at a desk, in light and dark."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from dispatch.actions import plugins, sweeping
from dispatch.records.models import PluginState
from tests.actions import plans
from tests.browser import looks
from tests.web import people

pytestmark = pytest.mark.timeout(120)
PAGES = (
    "/plugins/",
    "/plugins/notify_email/",
    "/plugins/notify_sms_http/",
    "/plugins/weather_veto/",
)
LONGEST_MS = 15_000
WORD = "cedar-and-copper"
FIELDS = "#main :is(.plugin-option, .reason, .buttons, .plugin-off)"


@pytest.fixture
def owner(transactional_db):
    plans.outfit()
    return people.owner()


@pytest.fixture
def in_use(owner):
    """One plugin of each standing."""
    plugins.enable("weather_veto", {})
    given = {"url": "https://gateway.pell.test/sms", "secret": WORD}
    plugins.enable("notify_sms_http", given)
    PluginState.objects.filter(name="notify_sms_http").update(
        resting_until=timezone.now() + timedelta(minutes=9),
        last_fault="Plugin notify_sms_http cannot answer: gateway.pell.test did not take it: 401 no such key. Check user and secret.",
        last_good_at=timezone.now() - timedelta(hours=5),
    )
    PluginState.objects.create(name="tide_gate_of_old", enabled=True)
    return owner


def test_mail_is_set_up_on_a_phone_and_the_password_is_not_shown_again(
    phone: Page, sign_in, owner
):
    sign_in(phone, owner)
    phone.goto("/week/")
    phone.get_by_role("link", name="Plugins").tap()
    phone.get_by_role("link", name="Notify email").tap()
    phone.get_by_label("Host").fill("mail.pell.test")
    phone.get_by_label("Sender", exact=True).fill("crew")
    phone.get_by_label("Password").fill(WORD)
    phone.get_by_label("User").fill("leeboard")
    phone.get_by_role("button", name="Turn it on").tap()
    expect(phone.get_by_role("alert")).to_contain_text("“Sender” is no e-mail address")
    sender = phone.get_by_label("Sender", exact=True)
    expect(sender).to_have_attribute("aria-invalid", "true")
    expect(sender).to_be_focused()
    expect(sender).to_be_in_viewport()
    expect(phone.get_by_label("Password")).to_have_value("")
    sender.fill("crew@pell.test")
    phone.get_by_label("Password").fill(WORD)
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("status").first).to_contain_text(
        "Notify email is on", timeout=LONGEST_MS
    )
    assert PluginState.objects.get(name="notify_email").options["password"] == WORD
    assert WORD not in phone.content()
    phone.get_by_role("button", name="Turn it off").tap()
    expect(phone.get_by_role("status").first).to_contain_text("Notify email is off")


@pytest.mark.parametrize("width", [1440, 390])
def test_every_page_fits_and_nothing_serious_stands_in_the_way(
    new_page, sign_in, in_use, width
):
    page = new_page(width=width)
    sign_in(page, in_use)
    for address in PAGES:
        page.goto(address)
        assert looks.amiss(page, within=FIELDS) == [], address


def test_what_needs_a_look_stands_first(page: Page, sign_in, in_use):
    sign_in(page, in_use)
    page.goto("/plugins/")
    expect(page.locator("main h2").first).to_have_text("Needs a look")
    first = page.locator("article").first
    expect(first).to_contain_text("Check user and secret.")
    expect(first).to_contain_text("Resting")
    expect(page.get_by_text("no plugin tide_gate_of_old was found.")).to_be_visible()


def test_a_test_is_asked_for_on_a_phone_and_what_came_of_it_is_read(
    phone: Page, sign_in, owner, tmp_path
):
    plugins.enable("notify_file", {"file": str(tmp_path / "out.jsonl")})
    sign_in(phone, owner)
    phone.goto("/plugins/notify_file/")
    phone.get_by_label("Send me a test, to").fill("+12075550123")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("status").first).to_contain_text("on its way")
    sweeping.sweep()
    phone.goto("/plugins/notify_file/")
    expect(phone.locator("main")).to_contain_text(
        "Sent a test by notify_file to +12075550123: accepted (written)."
    )
    assert looks.wider_than_the_screen(phone) == 0
    assert looks.serious(phone) == []
    assert looks.small_targets(phone, ".plugin-off") == []
