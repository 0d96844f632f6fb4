"""Mail through the real broker and a real worker: once, and not twice when the worker is killed in the middle."""

import os
import signal
from datetime import timedelta
from email import message_from_bytes, policy

import pytest
from django.conf import settings
from django.utils import timezone

from dispatch.actions import plugins
from dispatch.cli.embedded import broker
from dispatch.notices import outbox
from dispatch.records.models import JobKind, Notice
from dispatch.tasks import notices
from dispatch.trade.spans import Span
from tests.actions import shop
from tests.plugins import mail_server

pytestmark = [pytest.mark.services, pytest.mark.timeout(180)]
SOON = shop.NOW + timedelta(hours=13)


@pytest.fixture
def server(transactional_db):
    shop.outfit()
    shop.catalogue()
    with mail_server.serving() as kept:
        here = {"host": "localhost", "port": kept.port, "security": "plain"}
        plugins.enable("notify_email", here | {"sender": "crew@pell.test"})
        yield kept


@pytest.fixture
def job(server):
    kind = JobKind.objects.get(key="wash")
    boat = shop.boat(shop.driveway())
    return boat.jobs.create(key="j1", kind=kind, taken_at=shop.NOW)


def put(job, number: int) -> Notice:
    fact = outbox.Fact(
        reason="moved",
        fact=f"j1 visit {number}",
        version="1",
        to_whom=job.boat.customer,
        job=job,
        subject=f"We come {number}",
        body="On Monday.",
        due_at=shop.NOW,
        span=Span(SOON, SOON + timedelta(hours=1)),
    )
    return outbox.put(fact, channel="email", to="ames@pell.test")


def state(notice: Notice) -> str:
    return Notice.objects.get(pk=notice.pk).state


def becomes(notice: Notice, wanted: str) -> bool:
    """Whether a message becomes so, the worker being told now and then as the clock tells it."""
    for _ in range(20):
        notices.drain.delay()
        if broker.wait_for(lambda: state(notice) == wanted, 3):
            return True
    return False


def test_two_workers_at_once_send_each_letter_once(start, server, job):
    told = [put(job, number) for number in range(12)]
    with start(), start():
        for _ in range(6):
            notices.drain.delay()
        assert all(becomes(notice, "sent") for notice in told)
    subjects = [subject(letter) for letter in server.letters]
    assert sorted(subjects) == sorted(f"We come {number}" for number in range(12))
    assert b"visit.ics" in server.letters[0]


def test_a_worker_killed_in_the_middle_leaves_a_letter_to_be_asked_about(
    start, server, job
):
    lost = put(job, 1)
    server.holds = True
    with start() as children:
        notices.drain.delay()
        assert broker.wait_for(lambda: len(server.letters) == 1, 40)
        os.killpg(children.child("worker").pid, signal.SIGKILL)
        server.holds = False
        server.held.set()
        assert state(lost) == "claimed"
        died = timezone.now() - timedelta(minutes=6)
        Notice.objects.filter(pk=lost.pk).update(claimed_at=died)
        other = put(job, 2)
        assert becomes(lost, "unknown")
        assert becomes(other, "sent")
    assert [subject(letter) for letter in server.letters] == ["We come 1", "We come 2"]


@pytest.mark.skipif(bool(settings.REDIS_URL), reason="the broker is not ours to kill")
@pytest.mark.parametrize("killed", [("broker",), ("worker", "broker")])
def test_whatever_is_killed_in_the_middle_no_letter_goes_twice(
    start, server, job, killed
):
    """The same fact is put down three times; then the broker dies while it is sent, or all of the service."""
    notice = [put(job, 1) for _ in range(3)][-1]
    server.holds = True
    with start() as children:
        notices.drain.delay()
        assert broker.wait_for(lambda: len(server.letters) == 1, 40)
        for name in killed:
            os.killpg(os.getpgid(children.child(name).pid), signal.SIGKILL)
        server.holds = False
        server.held.set()
        assert broker.wait_for(lambda: broker.answers(settings.BROKER_SOCKET), 20)
        if "worker" in killed:
            died = timezone.now() - timedelta(minutes=6)
            Notice.objects.filter(pk=notice.pk).update(claimed_at=died)
        other = put(job, 2)
        assert becomes(other, "sent")
        assert becomes(notice, "unknown" if "worker" in killed else "sent")
    assert [subject(letter) for letter in server.letters] == ["We come 1", "We come 2"]


def subject(letter: bytes) -> str:
    return str(message_from_bytes(letter, policy=policy.default)["Subject"])
