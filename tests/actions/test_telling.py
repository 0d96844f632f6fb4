"""What waits goes to the plugin of its channel, once; what was lost with a worker is asked about."""

from datetime import timedelta

import pytest
from django.utils import timezone

from dispatch.actions import clock, plugins, telling
from dispatch.hooks import guard, registry
from dispatch.hooks.manifest import Manifest
from dispatch.hooks.registry import Found
from dispatch.hooks.values import Receipt
from dispatch.notices import outbox
from dispatch.records.models import JobKind, Notice, Outfit, PluginState
from dispatch.trade.spans import Span
from tests.actions import shop

pytestmark = pytest.mark.django_db
HOUR = Span(shop.NOW, shop.NOW + timedelta(hours=1))


@pytest.fixture
def job():
    shop.outfit()
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    boat = shop.boat(shop.driveway())
    return boat.jobs.create(key="j1", kind=kind, taken_at=shop.NOW)


@pytest.fixture
def sent(monkeypatch):
    """Three plugins that take messages, and the list of what each was handed."""
    handed = []
    known = {
        "all": found("all"),
        "post": found("post", channels=("email",)),
        "tones": found("tones", channels=("text",), once=True),
    }
    monkeypatch.setattr(registry, "found", lambda: tuple(known.values()))
    monkeypatch.setattr(registry, "named", known.__getitem__)

    def ask(state, hook, message):
        handed.append((state.name, message))
        return guard.Outcome(answer=Receipt(status="accepted", said="ok"))

    monkeypatch.setattr(plugins, "ask", ask)
    return handed


def found(name: str, **more) -> Found:
    manifest = Manifest(
        name=name, version="1", socket=1, summary="Takes.", hooks=("send",), **more
    )
    return Found(name=name, module=name, manifest=manifest)


def put(job, channel="email", version="08:00", fact="j1 visit 2027-05-24", **more):
    told = outbox.Fact(
        reason="moved",
        fact=fact,
        version=version,
        to_whom=job.boat.customer,
        job=job,
        subject="Monday",
        body="We come on Monday.",
        due_at=shop.NOW - timedelta(days=400),
        **more,
    )
    return outbox.put(told, channel=channel, to="someone")


def lost(job, channel):
    """A message whose worker died six minutes ago."""
    notice = put(job, channel)
    died = timezone.now() - timedelta(minutes=6)
    Notice.objects.filter(pk=notice.pk).update(state="claimed", claimed_at=died)
    return notice


def names(handed):
    return [name for name, _ in handed]


def test_each_message_goes_to_the_plugin_of_its_channel(job, sent):
    for name in ("all", "post", "tones"):
        plugins.enable(name, {})
    put(job, "email")
    put(job, "text")
    assert telling.drain() == 2
    assert sorted(names(sent)) == ["post", "tones"]


def test_a_channel_without_a_plugin_of_its_own_goes_to_one_that_takes_all(job, sent):
    for name in ("all", "tones"):
        plugins.enable(name, {})
    put(job, "email")
    telling.drain()
    assert names(sent) == ["all"]


def test_a_channel_without_any_plugin_waits(job, sent):
    plugins.enable("post", {})
    waiting = put(job, "text")
    assert telling.drain() == 0
    assert Notice.objects.get(pk=waiting.pk).state == "waiting"
    assert Notice.objects.get(pk=waiting.pk).attempts == 0


def test_what_was_lost_with_a_worker_is_asked_about_and_not_sent_twice(job, sent):
    plugins.enable("post", {})
    notice = lost(job, "email")
    assert telling.drain() == 0
    notice.refresh_from_db()
    assert notice.state == "unknown"
    assert "ask whether it came" in notice.said
    assert sent == []


def test_what_was_lost_is_handed_over_again_where_that_reaches_nobody_twice(job, sent):
    plugins.enable("tones", {})
    notice = lost(job, "text")
    assert telling.drain() == 1
    notice.refresh_from_db()
    assert notice.state == "sent"


def test_a_visit_told_anew_is_the_same_appointment_told_a_second_time(job, sent):
    plugins.enable("post", {})
    put(job, span=HOUR)
    telling.drain()
    later = Span(HOUR.start + timedelta(hours=2), HOUR.end + timedelta(hours=2))
    put(job, version="10:00", span=later)
    telling.drain()
    first, second = (message.appointment for _, message in sent)
    assert (first.uid, first.sequence, first.span) == (second.uid, 0, HOUR)
    assert (second.sequence, second.span) == (1, later)
    assert second.where == job.boat.place.name


def test_a_message_about_no_span_has_no_appointment(job, sent):
    plugins.enable("post", {})
    put(job)
    telling.drain()
    assert sent[0][1].appointment is None


def test_the_segments_of_a_text_are_counted(job, sent):
    """3GPP TS 23.040: 160 septets alone, 153 joined; 161 letters take two."""
    plugins.enable("tones", {})
    notice = put(job, "text")
    Notice.objects.filter(pk=notice.pk).update(body="a" * 161)
    telling.drain()
    assert sent[0][1].segments == 2


@pytest.fixture
def broken(job, sent, monkeypatch):
    """A plugin that does not take what it is handed, and rests after the third time; the list of what it was."""
    plugins.enable("post", {})

    def ask(state, hook, message):
        sent.append((state.name, message))
        if len(sent) == 3:
            until = timezone.now() + timedelta(minutes=15)
            PluginState.objects.filter(pk=state.pk).update(resting_until=until)
        return guard.Outcome(fault="Plugin post is away.", untouched=True)

    monkeypatch.setattr(plugins, "ask", ask)
    return sent


def test_what_was_not_taken_waits_longer_each_time(job, broken):
    notice = put(job)
    for minutes in (5, 10):
        telling.drain()
        notice.refresh_from_db()
        assert (notice.state, notice.said) == ("waiting", "Plugin post is away.")
        assert notice.due_at == clock.now() + timedelta(minutes=minutes)
        assert telling.drain() == 0
        Outfit.objects.update(stands_at=notice.due_at)
    assert len(broken) == 2


def test_the_wait_ends_at_an_hour():
    waits = [outbox.again_after(n) / timedelta(minutes=1) for n in range(1, 8)]
    assert waits == [5, 10, 20, 40, 60, 60, 60]
    assert outbox.again_after(30_000) == timedelta(hours=1)


def test_while_its_plugin_rests_nothing_is_claimed(job, broken):
    for number in range(5):
        put(job, version=f"08:{number:02}", fact=f"j1 visit {number}")
    telling.drain()
    assert len(broken) == 3
    assert telling.drain() == 0
    assert len(broken) == 3
    assert sorted(Notice.objects.values_list("attempts", flat=True)) == [0, 0, 1, 1, 1]


def test_what_is_late_is_not_sent_in_the_night(job, sent):
    """Common practice: a customer is written to between 08:00 and 20:30, by the customer's clock."""
    plugins.enable("post", {})
    notice = put(job)
    night = shop.NOW.replace(hour=22)
    Outfit.objects.update(stands_at=night)
    assert telling.drain() == 0
    notice.refresh_from_db()
    assert sent == []
    assert (notice.state, notice.due_at) == ("waiting", night + timedelta(hours=10))
    Outfit.objects.update(stands_at=night + timedelta(hours=10))
    assert telling.drain() == 1


def test_a_visit_that_is_over_is_not_told(job, sent):
    plugins.enable("post", {})
    notice = put(job, span=HOUR)
    Outfit.objects.update(stands_at=HOUR.end)
    assert telling.drain() == 0
    notice.refresh_from_db()
    assert (notice.state, sent) == ("dropped", [])
    assert "call by hand" in notice.said
