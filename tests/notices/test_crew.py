"""Wet film is to be covered: those of the crew who may go and agreed are told at once, and told when nobody need go.

The rain is forecast for 14:00 on Wednesday, so she is to be covered by 13:45; it is 11:30.
"""

import pytest

from dispatch.actions import covers, crew_told, plugins, settings, telling
from dispatch.records.models import (
    Account,
    Cover,
    DayOff,
    Job,
    Notice,
    Outfit,
    Person,
)
from tests.actions import plans
from tests.journeys.test_hull_and_yard import covered, rained_on, roof  # noqa: F401

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
ROOK, TEAGUE = "+12075550103", "+12075550102"


@pytest.fixture
def agreed(rained_on):  # noqa: F811 - the fixture
    """Rook, who is out with the van, and Teague, who is not, agreed to be told by text."""
    for key, phone in (("rook", ROOK), ("teague", TEAGUE)):
        Person.objects.filter(key=key).update(phone=phone, text_consent=True)


def numbers(**of):
    return set(Notice.objects.filter(**of).values_list("to", flat=True))


def owner():
    return Account.objects.get(role="owner")


def on_now(cover, who="Rook Ferrante", by=None):
    return covers.is_on(cover, who, plans.at(26, "11:25"), by=by or owner())


def test_who_is_out_with_a_van_is_told_at_once(agreed, covered, client):  # noqa: F811
    told = Notice.objects.get()
    assert (told.to, told.reason, told.person.key) == (ROOK, "cover", "rook")
    assert told.due_at == plans.at(26, "11:30")
    assert "by Wed 26 May 13:45, with Loft: rain" in told.body
    page = client.get("/week/").text
    assert "Rook Ferrante is told by message" in page
    shown = client.get("/messages/").text
    assert "Rook Ferrante" in shown
    assert "of the crew" in shown


def test_where_nobody_is_out_all_who_are_not_away_are_told_at_any_hour(agreed):
    Outfit.objects.update(stands_at=plans.at(26, "02:30"))
    DayOff.objects.create(
        person=Person.objects.get(key="rook"), on=plans.at(26, "12:00").date()
    )
    cover = asked()
    assert numbers() == {TEAGUE}
    assert Notice.objects.get().due_at == plans.at(26, "02:30")
    assert crew_told.says(cover) == "Teague Amsel is told by message."


def asked():
    """A cover over her, asked for without a roof."""
    job = Job.objects.get()
    cover = Cover.objects.create(job=job, asked_at=plans.at(26, "02:30"))
    crew_told.wanted(cover, (), by=None)
    return cover


def test_nobody_is_told_who_did_not_agree_and_the_owner_reads_whom_to_call(
    covered,  # noqa: F811
    client,
):
    assert not Notice.objects.exists()
    said = "Nobody of the crew is told by message. Call Rook Ferrante, out now."
    assert crew_told.says(covered) == said
    assert said.rstrip(".") in client.get("/week/").text


def test_it_can_be_turned_off(agreed, rained_on):  # noqa: F811
    settings.change("crew.cover_told", 0.0, by=plans.owner())
    asked()
    assert not Notice.objects.exists()


def test_who_was_told_hears_that_nobody_need_go_and_who_said_it_does_not(
    agreed,
    covered,  # noqa: F811
):
    Notice.objects.update(state="sent")
    on_now(covered)
    told = Notice.objects.get(reason="cover-settled")
    assert told.to == ROOK
    assert "is covered since Wed 26 May 11:25, says Rook Ferrante" in told.body


def test_what_waits_is_dropped_once_she_is_covered(agreed, covered):  # noqa: F811
    on_now(covered)
    assert set(Notice.objects.values_list("state", flat=True)) == {"dropped"}


def test_a_cover_that_is_not_wanted_any_more_is_told_off(agreed, covered):  # noqa: F811
    Notice.objects.update(state="unknown")
    covers.off(covered, by=owner())
    told = Notice.objects.get(reason="cover-settled")
    assert "no cover is wanted any more" in told.body


def test_a_message_that_is_late_does_not_go_out_once_she_is_covered(
    agreed,
    covered,  # noqa: F811
):
    assert crew_told.stale(Notice.objects.get()) == ""
    Cover.objects.update(on_at=plans.at(26, "11:25"))
    assert crew_told.stale(Notice.objects.get()).startswith("She is covered")


def test_it_goes_by_the_plugin_of_texts_unless_stop_came_in(
    agreed,
    covered,  # noqa: F811
    tmp_path,
):
    out = tmp_path / "out.jsonl"
    plugins.enable("notify_file", {"file": str(out)})
    assert telling.drain() == 1
    assert ROOK in out.read_text()
    again = Notice.objects.get()
    Notice.objects.update(state="waiting")
    Person.objects.update(text_stopped_at=plans.at(26, "11:00"))
    assert telling.drain() == 0
    again.refresh_from_db()
    assert (again.state, again.said) == ("dropped", "STOP came in: call by hand")
