"""The owner's plugins: how each stands, options set and secrets kept back, nobody else let in."""

from datetime import timedelta

import pytest
from django.utils import timezone

from dispatch.actions import plugins, weather, windows
from dispatch.hooks import registry
from dispatch.hooks.registry import Found
from dispatch.records.models import DueWork, HistoryEntry, PluginState, Stage, Veto
from dispatch.trade.spans import Span
from tests.actions import posted, shop
from tests.web import people

pytestmark = pytest.mark.django_db
PAGE, MAIL, GATEWAY = "/plugins/", "/plugins/notify_email/", "/plugins/notify_sms_http/"
WORD = "cedar-and-copper"
SET = {
    "v:host": "mail.pell.test",
    "v:port": "587",
    "v:security": "starttls",
    "v:user": "leeboard",
    "secret:password": WORD,
    "v:sender": "crew@pell.test",
    "v:wait_seconds": "10",
}


@pytest.fixture
def place():
    shop.outfit()
    shop.catalogue()
    return shop.driveway()


@pytest.fixture
def owner(client, place):
    account = people.owner()
    client.force_login(account)
    return account


def stored(name="notify_email") -> PluginState:
    return PluginState.objects.get(name=name)


def told(client, name="notify_email") -> str:
    """What the first page tells of one plugin."""
    page = client.get(PAGE).text
    return page.split(f'<article class="plugin" id="{name}"')[1].split("</article>")[0]


def test_every_plugin_stands_on_the_page_with_version_and_state(client, owner):
    _, off = client.get(PAGE).text.split("Found, and not turned on")
    for one in registry.found():
        assert f"Version {one.manifest.version}" in told(client, one.name)
        assert f'<article class="plugin" id="{one.name}"' in off


def test_options_turn_a_plugin_on_and_are_kept(client, owner):
    answer = client.post(MAIL, SET | {"why": "the yard's own server"}, follow=True)
    assert "Notify email is on with the options you see." in answer.text
    assert stored().enabled
    assert (stored().options["host"], stored().options["port"]) == (
        "mail.pell.test",
        587.0,
    )
    line = HistoryEntry.objects.get(verb="enable-plugin")
    assert line.sentence.startswith("Turned on the plugin Notify email: host mail.pell")
    assert line.why == "the yard's own server"
    assert "It is asked when it is needed." in told(client)


def test_a_secret_is_never_shown_back(client, owner):
    client.post(MAIL, SET)
    assert stored().options["password"] == WORD
    pages = [client.get(address).text for address in (PAGE, MAIL, "/settings/")]
    pages.append(client.post(MAIL, SET | {"v:port": "0"}).text)
    assert [WORD in page for page in pages] == [False] * 4
    assert "One is kept and is not shown" in pages[1]
    assert not HistoryEntry.objects.filter(sentence__contains=WORD).exists()


def test_an_empty_secret_keeps_the_one_there_is_and_a_tick_forgets_it(client, owner):
    client.post(MAIL, SET)
    client.post(MAIL, SET | {"secret:password": "", "v:port": "2525"})
    assert (stored().options["password"], stored().options["port"]) == (WORD, 2525)
    sent = SET | {"secret:password": "", "v:user": "", "forget:password": "on"}
    client.post(MAIL, sent)
    assert stored().options["password"] == ""
    assert "password forgotten" in HistoryEntry.objects.first().sentence


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"v:port": "many"}, "“Port” is &#x27;many&#x27;; a number is wanted"),
        ({"v:port": "0"}, "“Port” is 0; a whole number"),
        ({"v:host": " "}, "“Host” is missing: the mail server&#x27;s name."),
        ({"v:security": "none"}, "choose starttls or implicit or plain"),
        ({"v:security": "plain"}, "Plain is for this machine alone"),
        ({"v:sender": "crew"}, "“Sender” is no e-mail address"),
    ],
)
def test_a_wrong_option_changes_nothing_and_is_told(client, owner, change, said):
    client.post(MAIL, SET)
    before = stored().options
    answer = client.post(MAIL, SET | {"v:user": "other"} | change)
    assert answer.status_code == 422
    assert "Nothing was changed." in answer.text
    assert said in answer.text
    assert ">other</textarea>" in answer.text
    assert stored().options == before


def test_lines_from_a_browser_are_kept_as_lines(client, owner):
    headers = "Content-Type: application/json\r\nX-Key: $secret"
    body = '{"to": "$to",\r\n "text": "$text"}'
    sent = {
        "v:url": "https://gateway.pell.test/",
        "v:method": "POST",
        "v:headers": headers,
        "v:body": body,
        "secret:secret": WORD,
        "v:taken": "200-299",
    }
    assert client.post(GATEWAY, sent).status_code == 302
    options = stored("notify_sms_http").options
    assert options["headers"] == headers.replace("\r\n", "\n")
    assert options["most_segments"] == 6
    assert client.get(GATEWAY).text.count(WORD) == 0


def test_one_that_rests_says_until_when_and_starts_afresh_when_saved(client, owner):
    client.post(MAIL, SET)
    until = timezone.now() + timedelta(minutes=9)
    fault = "Plugin notify_email cannot answer: mail.pell.test:587 is away <b>."
    PluginState.objects.update(resting_until=until, last_fault=fault, strikes=["x"])
    page = told(client)
    assert "Resting" in page
    assert "is not asked until" in page
    assert "is away &lt;b&gt;." in page
    client.post(MAIL, SET | {"secret:password": ""})
    assert (stored().resting_until, stored().strikes) == (None, [])
    assert HistoryEntry.objects.first().sentence == (
        "Started afresh the plugin Notify email."
    )


def test_one_that_does_not_fit_says_why_and_cannot_be_set(client, owner, monkeypatch):
    old = Found(name="old_one", module="", refused="it was built for socket 0.")
    known = (*registry.found(), old)
    monkeypatch.setattr(registry, "found", lambda: known)
    assert "It cannot be used: it was built for socket 0." in told(client, "old_one")
    answer = client.post("/plugins/old_one/", {})
    assert answer.status_code == 422
    assert "Nothing was changed. It cannot be turned on: it was built" in answer.text
    assert not PluginState.objects.exists()


def test_one_that_is_gone_is_told_while_it_is_turned_on(client, owner):
    PluginState.objects.create(name="gone_one", enabled=True)
    assert "no plugin gone_one was found." in told(client, "gone_one")
    assert "Turn it off" in client.get("/plugins/gone_one/").text
    client.post("/plugins/gone_one/off/")
    assert not stored("gone_one").enabled


def test_one_whose_stored_options_no_longer_fit_needs_setting(client, owner):
    PluginState.objects.create(name="notify_email", enabled=True)
    assert "Needs setting" in told(client)
    assert "“Host” is missing" in told(client)


def test_off_keeps_the_options(client, owner):
    client.post(MAIL, SET)
    answer = client.post(f"{MAIL}off/", follow=True)
    assert "Notify email is off. Its options are kept." in answer.text
    assert not stored().enabled
    assert ">mail.pell.test</textarea>" in client.get(MAIL).text
    assert "nothing was changed" in client.post(f"{MAIL}off/", follow=True).text


def judged_stage() -> Stage:
    """A stage that the rules of the trade have judged over three fair days."""
    job = posted.sprayed()
    posted.warm(job.boat.place)
    posted.stand("06:00")
    plugins.enable("weather_veto", {})
    stage = job.stages.get(key="port")
    weather.judge(stage)
    return stage


def test_a_rule_plugin_set_anew_or_turned_off_leaves_its_stages_unknown(client):
    stage = judged_stage()
    span = Span(posted.at("08:00"), posted.at("10:00"))
    assert windows.against(stage, span) is not None
    client.force_login(people.owner())
    client.post("/plugins/weather_veto/", {})
    assert stage.judged.get().fault.startswith("It was turned on or set anew")
    assert windows.against(stage, span) is None
    assert DueWork.objects.filter(verb="judge-book", done_at=None).exists()
    client.post("/plugins/weather_veto/off/")
    assert not stage.judged.exists()
    assert not Veto.objects.exists()
    assert windows.against(stage, span) is None


@pytest.mark.parametrize("address", [PAGE, MAIL, f"{MAIL}off/", "/plugins/none/"])
@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_sees_or_sets_them(client, place, make, address):
    client.force_login(make())
    assert client.get(address).status_code in (403, 405)
    assert client.post(address, SET).status_code in (403, 405)
    assert not PluginState.objects.exists()


@pytest.mark.parametrize("address", [PAGE, MAIL])
def test_a_stranger_is_asked_to_sign_in(client, place, address):
    assert client.get(address).url == f"/sign-in/?next={address}"
    assert client.post(address, SET).status_code in (302, 405)
    assert not PluginState.objects.exists()


def test_a_plugin_that_is_not_there_is_no_page(client, owner):
    assert client.get("/plugins/none/").status_code == 404
    assert client.post("/plugins/none/", {}).status_code == 404


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("drive_times_table", "Drives are asked for anew"),
        ("export_csv", "What it writes is written anew."),
        ("notify_file", "Messages that wait go out by them"),
        ("sun_veto", "What it told before is asked anew"),
    ],
)
def test_what_saving_does_is_told_of_each_kind(client, owner, name, told):
    assert told in client.get(f"/plugins/{name}/").text
