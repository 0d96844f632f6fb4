"""A worker is told at once of work that a commit left; a broker that is away breaks nothing."""

import socket
from datetime import timedelta
from time import monotonic

import pytest
from django.db import transaction
from django.utils import timezone

from dispatch.actions import due
from dispatch.cli.embedded import broker
from dispatch.config import celery
from dispatch.records.models import DueWork
from dispatch.tasks import nudge
from tests.actions import plans
from tests.web import people

TOLD: list[str] = []


def tell():
    TOLD.append("now")


def fail():
    raise RuntimeError("Nobody hears.")


@pytest.fixture(autouse=True)
def _rested():
    nudge._Broker.rests_until = 0.0
    TOLD.clear()
    yield
    nudge._Broker.rests_until = 0.0


@pytest.fixture
def told(settings):
    settings.AFTER_WORK_IS_LEFT = f"{__name__}.tell"
    return TOLD


@pytest.fixture
def away(monkeypatch, tmp_path):
    """A broker whose socket is not there."""
    monkeypatch.setattr(
        celery.app.conf, "broker_url", f"redis+socket://{tmp_path}/none.sock"
    )


@pytest.mark.django_db(transaction=True)
class TestAfterTheCommit:
    def test_much_work_is_told_once_and_only_once_it_is_committed(self, told):
        with transaction.atomic():
            for key in ("1", "2", "3"):
                due.put("judge-stage", key)
            assert told == []
        assert told == ["now"]

    def test_work_that_was_taken_back_is_told_to_nobody(self, told):
        with transaction.atomic():
            due.put("judge-stage", "1")
            transaction.set_rollback(True)
        assert told == []
        due.put("judge-stage", "2")
        assert told == ["now"]

    def test_work_that_is_due_later_wakes_nobody(self, told):
        due.put("judge-stage", "1", due_at=timezone.now() + timedelta(hours=1))
        assert told == []

    def test_trouble_in_telling_leaves_the_work_and_the_caller_alone(
        self, settings, caplog
    ):
        settings.AFTER_WORK_IS_LEFT = f"{__name__}.fail"
        due.put("judge-stage", "1")
        assert DueWork.objects.filter(done_at=None).count() == 1
        assert "Nobody hears." in caplog.text

    def test_a_page_answers_though_the_broker_is_away(self, client, away, caplog):
        place = plans.outfit()
        plans.wash(place)
        client.force_login(people.owner())
        begun = monotonic()
        answer = client.post("/week/2027-05-24/build/")
        assert monotonic() - begun < 5
        assert answer.url == "/week/2027-05-24/"
        assert DueWork.objects.filter(verb="build-week", done_at=None).exists()
        assert caplog.text.count("No worker could be told of new work") == 1


def test_a_broker_that_is_away_is_logged_once_and_left_alone_for_a_while(away, caplog):
    begun = monotonic()
    nudge.sweep_soon()
    # By its own habit the broker's library would go on trying.
    assert monotonic() - begun < 5
    nudge.sweep_soon()
    assert caplog.text.count("The clock's next sweep takes it up.") == 1


def test_a_broker_that_accepts_and_says_nothing_holds_nobody_for_long(
    monkeypatch, caplog
):
    with socket.create_server(("127.0.0.1", 0)) as silent:
        port = silent.getsockname()[1]
        monkeypatch.setattr(
            celery.app.conf, "broker_url", f"redis://127.0.0.1:{port}/0"
        )
        begun = monotonic()
        nudge.sweep_soon()
        # Untold how long, it would wait for ever.
        assert monotonic() - begun < 15
    assert "No worker could be told" in caplog.text


@pytest.mark.services
def test_without_the_clock_a_worker_does_it_within_seconds(start):
    """No beat runs here: only the nudge can have brought the worker to it."""
    with start():
        due.put("judge-book", "all")
        waiting = DueWork.objects.filter(done_at=None)
        assert broker.wait_for(lambda: not waiting.exists(), 20)
        due.put("judge-book", "again")
        assert broker.wait_for(lambda: not waiting.exists(), 20)
