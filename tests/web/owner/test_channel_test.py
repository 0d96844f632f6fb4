"""The owner has a test sent by a channel, and reads what the channel said of it."""

import json

import pytest

from dispatch.actions import plugins, sweeping
from dispatch.records.models import DueWork, HistoryEntry, PluginState
from tests.actions import shop
from tests.web import people

pytestmark = pytest.mark.django_db
PAGE, TEST = "/plugins/notify_file/", "/plugins/notify_file/test/"


@pytest.fixture
def file(tmp_path):
    shop.outfit()
    plugins.enable("notify_file", {"file": str(tmp_path / "out.jsonl")})
    return tmp_path / "out.jsonl"


@pytest.fixture
def owner(client, file):
    account = people.owner()
    client.force_login(account)
    return account


def test_a_test_is_sent_by_the_worker_and_what_came_of_it_is_told(client, owner, file):
    assert f'action="{TEST}"' in client.get(PAGE).text
    told = client.post(TEST, {"to": " +12075550123 "}, follow=True).text
    assert "The test is on its way" in told
    assert not file.exists()
    sweeping.sweep()
    (line,) = file.read_text().splitlines()
    sent = json.loads(line)
    assert (sent["to"], sent["reason"]) == ("+12075550123", "test")
    assert "Nothing needs doing." in sent["body"]
    assert (
        "Sent a test by notify_file to +12075550123: accepted (written)."
        in client.get(PAGE).text
    )


def test_two_presses_send_one_test(client, owner, file):
    client.post(TEST, {"to": "+12075550123"})
    client.post(TEST, {"to": "+12075550123"})
    sweeping.sweep()
    assert len(file.read_text().splitlines()) == 1


def test_a_fault_is_told_as_it_is(client, owner, file):
    file.parent.joinpath("wall").write_text("")
    bad = {"file": str(file.parent / "wall" / "out.jsonl")}
    PluginState.objects.update(options=bad)
    client.post(TEST, {"to": "+12075550123"})
    sweeping.sweep()
    said = HistoryEntry.objects.get(verb="test-channel").sentence
    assert "cannot be written" in said


@pytest.mark.parametrize("to", ["", "x" * 41, "a\nb"])
def test_an_address_that_is_none_is_refused_with_what_is_wanted(client, owner, to):
    told = client.post(TEST, {"to": to}, follow=True).text
    assert "Say whom the test goes to" in told
    assert not DueWork.objects.exists()


def test_a_plugin_that_is_off_or_sends_nothing_sends_no_test(client, owner):
    PluginState.objects.update(enabled=False)
    assert "is not turned on" in client.post(TEST, {"to": "1"}, follow=True).text
    plugins.enable("weather_veto", {})
    answer = client.post("/plugins/weather_veto/test/", {"to": "1"}, follow=True)
    assert "sends no messages" in answer.text
    assert "Send me a test" not in client.get("/plugins/weather_veto/").text


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_sends_one(client, file, make):
    client.force_login(make())
    assert client.post(TEST, {"to": "+12075550123"}).status_code == 403
    assert client.get(TEST).status_code == 405
