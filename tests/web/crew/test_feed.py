"""A person's visits in their own calendar: written by the worker, read by whoever has the address, ended at will."""

import pytest

from dispatch.actions import feeds, plugins, sweeping, visit_sky
from dispatch.hooks import registry
from dispatch.records.models import (
    Account,
    DueWork,
    Feed,
    HistoryEntry,
    Person,
    Visit,
)
from tests.actions import posted
from tests.web import people

pytestmark = pytest.mark.django_db
PAGE = "/route/calendar/"


@pytest.fixture
def visit():
    """Rook rides to the port side on Monday at 11:00 of a fair day; it is 06:00."""
    job = posted.sprayed()
    posted.stand("06:00")
    stage = job.stages.get(key="port")
    made = posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)
    sweeping.sweep()
    Visit.objects.update(sky_says="allows")
    plugins.enable("calendar_feed", {})
    return made


@pytest.fixture
def rook(client, visit):
    account = Account.objects.get(person__key="rook")
    client.force_login(account)
    return account


def address(client) -> str:
    client.post(PAGE, {"plugin": "calendar_feed"})
    return f"/feed/{Feed.objects.get().word}/"


def read(client, where):
    """What a calendar reads there, without signing in, its folded lines made whole."""
    client.logout()
    answer = client.get(where)
    return answer, answer.text.replace("\r\n ", "")


def test_a_table_is_served_beside_the_calendar_at_an_address_of_its_own(client, rook):
    plugins.enable("export_csv", {"time_zone": "America/New_York"})
    told = client.get(PAGE).text
    assert "as a table for a spreadsheet" in told
    assert "for a calendar to subscribe to" in told
    client.post(PAGE, {"plugin": "export_csv"})
    sweeping.sweep()
    answer, text = read(client, f"/feed/{Feed.objects.get().word}/")
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="visits.csv"'
    assert "Rook,2027-05-24T11:00-04:00,2027-05-24T12:30-04:00,1.50," in text


def test_a_person_makes_an_address_and_a_calendar_reads_their_visits(client, rook):
    where = address(client)
    assert where in client.get(PAGE).text
    sweeping.sweep()
    answer, text = read(client, where)
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert "noindex" in answer["X-Robots-Tag"]
    assert "no-store" in answer["Cache-Control"]
    # 11:00 in Pell Harbor in May is 15:00 UTC; 90 minutes later it is 16:30.
    assert "DTSTART:20270524T150000Z\r\nDTEND:20270524T163000Z" in text
    assert "SUMMARY:Second Wind: " in text
    assert "STATUS:CONFIRMED" in text


def test_before_the_worker_has_written_it_a_calendar_is_asked_to_come_again(
    client, rook
):
    answer, _ = read(client, address(client))
    assert (answer.status_code, answer["Retry-After"]) == (503, "60")


def test_a_new_address_ends_the_one_before(client, rook):
    before = address(client)
    sweeping.sweep()
    after = address(client)
    sweeping.sweep()
    assert read(client, before)[0].status_code == 404
    assert read(client, after)[0].status_code == 200
    assert HistoryEntry.objects.filter(verb="open-feed").count() == 2


def test_what_the_sky_forbids_is_not_sure_as_soon_as_it_is_known(client, rook, visit):
    where = address(client)
    sweeping.sweep()
    posted.judged(visit.stage, ("10:00", "14:00", "gust 22 mph, at most 14"))
    visit_sky.mark(visit.stage)
    assert DueWork.objects.filter(verb=feeds.VERB, done_at=None).count() == 1
    sweeping.sweep()
    _, text = read(client, where)
    assert "STATUS:TENTATIVE" in text
    assert "SUMMARY:Not sure: Second Wind" in text
    assert "Gust 22 mph" in text


def test_a_plugin_that_fails_leaves_what_was_written(client, rook, monkeypatch):
    where = address(client)
    sweeping.sweep()
    written = Feed.objects.get().written_at

    def fail(*args):
        raise RuntimeError("no paper")

    with monkeypatch.context() as patch:
        patch.setattr(registry, "load", fail)
        feeds.write_all()
    assert Feed.objects.get().written_at == written
    assert "DTSTART:20270524T150000Z" in read(client, where)[1]


def test_it_holds_the_visits_of_nobody_else(client, rook, visit):
    where = address(client)
    visit.van_day.team.set([posted.person("wren")])
    sweeping.sweep()
    assert "Second Wind" not in read(client, where)[1]


def test_who_has_left_is_read_no_more(client, rook):
    where = address(client)
    sweeping.sweep()
    Person.objects.filter(key="rook").update(active=False)
    assert read(client, where)[0].status_code == 404


def test_turned_off_it_is_neither_offered_nor_read(client, rook):
    where = address(client)
    sweeping.sweep()
    plugins.PluginState.objects.update(enabled=False)
    assert "No plugin that writes calendars is turned on" in client.get(PAGE).text
    assert client.post(PAGE, {"plugin": "calendar_feed"}).status_code == 403
    assert read(client, where)[0].status_code == 404


def test_a_stranger_makes_no_address_and_a_guess_opens_nothing(client, visit):
    assert client.get(PAGE).url == f"/sign-in/?next={PAGE}"
    assert client.post(PAGE, {"plugin": "calendar_feed"}).status_code == 302
    assert client.get("/feed/x/").status_code == 404
    assert not Feed.objects.exists()


@pytest.mark.parametrize("make", [people.owner, people.nobodys])
def test_who_rides_in_no_van_has_no_calendar(client, visit, make):
    client.force_login(make())
    assert client.get(PAGE).status_code == 403
    assert client.post(PAGE, {"plugin": "calendar_feed"}).status_code == 403
    assert not Feed.objects.exists()


def test_looking_makes_no_address(client, rook):
    assert "Make an address" in client.get(PAGE).text
    assert not Feed.objects.exists()


def test_while_nobody_has_a_feed_nothing_is_left_to_write(visit):
    feeds.later()
    assert not DueWork.objects.filter(verb=feeds.VERB).exists()
