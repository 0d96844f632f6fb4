"""The embedded broker and worker, for real: queued work is done, whoever is killed meanwhile."""

import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

from dispatch.cli import embedded
from dispatch.cli.embedded import broker
from tests.config import probe

pytestmark = [
    pytest.mark.services,
    pytest.mark.django_db(transaction=True),
]
PROBE = ("--include", "tests.config.probe")


def words(path: Path) -> list[str]:
    return path.read_text().split() if path.exists() else []


def comes(path: Path, *expected: str, seconds: float = 40) -> bool:
    return broker.wait_for(
        lambda: words(path)[-len(expected) :] == list(expected), seconds
    )


def test_a_task_goes_through_broker_and_worker(start, tmp_path):
    with start(worker_options=PROBE):
        probe.mark.delay(str(tmp_path / "out"), "hello")
        assert comes(tmp_path / "out", "hello")


def test_work_queued_while_the_worker_is_dead_is_done_by_the_next(start, tmp_path):
    with start(worker_options=PROBE) as children:
        probe.mark.delay(str(tmp_path / "out"), "first")
        assert comes(tmp_path / "out", "first")
        dead = children.child("worker").pid
        os.killpg(dead, signal.SIGKILL)
        assert broker.wait_for(lambda: not alive(dead), 10)
        probe.mark.delay(str(tmp_path / "out"), "second")
        assert comes(tmp_path / "out", "first", "second")


def test_a_task_cut_short_by_a_killed_worker_is_done_again(start, tmp_path):
    out = tmp_path / "out"
    with start(
        worker_options=PROBE, environ={"LEEBOARD_TASK_SECONDS": "4"}
    ) as children:
        probe.slow.delay(str(out), 2.0)
        assert comes(out, "begun")
        os.killpg(children.child("worker").pid, signal.SIGKILL)
        assert comes(out, "begun", "begun", "done", seconds=60)


@pytest.mark.skipif(bool(settings.REDIS_URL), reason="the broker is not ours to kill")
def test_a_killed_broker_comes_back_with_its_queue(start, tmp_path):
    with start(worker=False) as children:
        probe.mark.delay(str(tmp_path / "out"), "kept")
        # The server writes its log of changes once a second.
        assert not broker.wait_for(lambda: False, 1.5)
        before = children.child("broker").pid
        os.kill(before, signal.SIGKILL)
        back = lambda: children.child("broker").pid not in {None, before}  # noqa: E731
        assert broker.wait_for(back, 20)
        assert broker.wait_for(lambda: broker.answers(settings.BROKER_SOCKET), 20)
        with start(worker_options=PROBE):
            assert comes(tmp_path / "out", "kept")


@pytest.mark.skipif(bool(settings.REDIS_URL), reason="the broker is not ours to kill")
def test_a_worker_begins_anew_after_its_broker_and_ends_what_it_does_first(
    start, tmp_path
):
    """Now and then a worker waits for ever on the connection that died with its broker."""
    out = tmp_path / "out"
    with start(worker_options=PROBE) as children:
        probe.slow.delay(str(out), 3.0)
        assert comes(out, "begun")
        before = children.child("worker").pid
        os.kill(children.child("broker").pid, signal.SIGKILL)
        assert comes(out, "begun", "done")
        anew = lambda: children.child("worker").pid not in {None, before}  # noqa: E731
        assert broker.wait_for(anew, 30)
        probe.mark.delay(str(tmp_path / "later"), "hello")
        assert comes(tmp_path / "later", "hello")


def test_everything_ends_with_the_block(start):
    with start(beat=True) as children:
        pids = [child.pid for child in children.all]
        assert all(pids)
    for pid in pids:
        with pytest.raises(ProcessLookupError):
            os.kill(pid, 0)


@pytest.mark.skipif(bool(settings.REDIS_URL), reason="no socket of ours")
def test_the_socket_is_its_owners_alone(start):
    with start(worker=False):
        assert stat.S_IMODE(settings.BROKER_SOCKET.parent.stat().st_mode) == 0o700
        assert stat.S_IMODE(settings.BROKER_SOCKET.stat().st_mode) == 0o700


def test_children_end_when_their_starter_is_killed(tmp_path):
    """Without a word of farewell: kill -9 of the starter leaves no orphan."""
    code = (
        "import django, os, threading; django.setup()\n"
        "from dispatch.cli.embedded import running\n"
        "with running(worker=True, beat=True) as children:\n"
        "    print(*[child.pid for child in children.all], flush=True)\n"
        "    threading.Event().wait()\n"
    )
    environ = os.environ | {
        "LEEBOARD_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "dispatch.config.settings",
    }
    starter = subprocess.Popen(
        [sys.executable, "-c", code],
        cwd=settings.BASE_DIR,
        env=environ,
        stdout=subprocess.PIPE,
    )
    with starter:
        pids = [int(pid) for pid in starter.stdout.readline().split()]
        starter.kill()
    assert pids
    assert broker.wait_for(lambda: not any(alive(pid) for pid in pids), 30)


def alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def test_no_server_program_is_said_in_one_sentence(start, monkeypatch):
    monkeypatch.setattr(broker, "server", lambda: None)
    monkeypatch.setattr(settings, "REDIS_URL", "")
    with (
        pytest.raises(
            embedded.EmbeddedError, match="install redis-server, or set REDIS_URL"
        ),
        start(worker=False),
    ):
        pytest.fail("started without a server")
