"""Two workers on a Redis that is not the house's own: whatever is killed in the middle, no letter goes twice.

The Redis is a program of its own, as an operator runs one, started and killed here; it keeps its queue on disk.
"""

import os
import shutil
import signal
import subprocess
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import settings
from django.utils import timezone

from dispatch.cli.embedded import broker
from dispatch.records.models import Notice
from tests.journeys.test_mail import job, put, server, state, subject

__all__ = ["job", "server"]
pytestmark = [pytest.mark.services, pytest.mark.timeout(240)]
PATIENCE_S = 60


class Redis:
    """A Redis of the test's own; killed and started again it has its queue back."""

    def __init__(self, folder: Path) -> None:
        self.socket = folder / "own.sock"
        program = shutil.which("redis-server") or pytest.fail("install redis-server")
        self._command = broker.command("own", Path(program), self.socket)
        self.start()

    def start(self) -> None:
        self.process = subprocess.Popen(self._command)
        assert broker.wait_for(lambda: broker.answers(self.socket), PATIENCE_S)

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()


@pytest.fixture
def redis(tmp_path_factory, monkeypatch) -> Iterator[Redis]:
    # A socket's path may be 107 bytes long at most.
    folder = tmp_path_factory.mktemp("r")
    made = Redis(folder)
    monkeypatch.setattr(settings, "REDIS_URL", f"redis+socket://{made.socket}")
    yield made
    made.kill()


@pytest.fixture
def workers(start, redis):
    """Two worker processes and a clock, none of which starts a broker."""
    environ = {"REDIS_URL": settings.REDIS_URL}
    with start(environ=environ, beat=True) as first, start(environ=environ) as second:
        assert [child.name for child in first.all] == ["worker", "clock"]
        yield first, second


def becomes(notice: Notice, *wanted: str) -> bool:
    return broker.wait_for(lambda: state(notice) in wanted, PATIENCE_S)


def kill_workers(workers) -> None:
    for children in workers:
        os.killpg(children.child("worker").pid, signal.SIGKILL)


def age_claims() -> None:
    """Minutes go by, so that what a dead worker had in hand may be taken up."""
    died = timezone.now() - timedelta(minutes=6)
    Notice.objects.filter(state="claimed").update(claimed_at=died)


@pytest.mark.parametrize("killed", ["redis", "both"])
def test_no_letter_goes_twice_and_the_next_still_goes(
    server, job, redis, workers, killed
):
    """The same fact is put down three times; while it is being sent Redis is killed, or the workers with it."""
    server.holds = True
    notice = [put(job, 1) for _ in range(3)][-1]
    assert broker.wait_for(lambda: len(server.letters) == 1, PATIENCE_S)
    redis.kill()
    if killed != "redis":
        kill_workers(workers)
    server.holds = False
    server.held.set()
    redis.start()
    if killed != "redis":
        age_claims()
    other = put(job, 2)
    assert becomes(other, "sent")
    assert becomes(notice, "sent" if killed == "redis" else "unknown")
    assert [subject(letter) for letter in server.letters] == ["We come 1", "We come 2"]


def test_a_dozen_letters_by_two_workers_go_once_though_redis_dies_meanwhile(
    server, job, redis, workers
):
    told = [put(job, number) for number in range(12)]
    assert broker.wait_for(lambda: len(server.letters) >= 2, PATIENCE_S)
    redis.kill()
    redis.start()
    assert all(becomes(notice, "sent") for notice in told)
    found = sorted(subject(letter) for letter in server.letters)
    assert found == sorted(f"We come {number}" for number in range(12))
