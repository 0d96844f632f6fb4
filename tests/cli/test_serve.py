"""`manage.py serve`: one command up, one signal down, one sentence when the port is taken."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from io import StringIO
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from dispatch.cli.embedded import broker
from dispatch.cli.management.commands import serve


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as door:
        return door.getsockname()[1]


def status(port: int) -> int:
    try:
        return urllib.request.urlopen(
            f"http://127.0.0.1:{port}/sign-in/", timeout=5
        ).status
    except urllib.error.HTTPError as answer:
        with answer:
            return answer.code
    except OSError:
        return 0


def below(pid: int) -> set[int]:
    """Return the processes that this one started, theirs too."""
    file = Path(f"/proc/{pid}/task/{pid}/children")
    own = {int(word) for word in file.read_text().split()} if file.exists() else set()
    return own.union(*(below(child) for child in own))


@pytest.mark.django_db
def test_a_port_in_use_is_said_in_one_sentence_and_nothing_is_started():
    with socket.create_server(("127.0.0.1", 0)) as door:
        port = door.getsockname()[1]
        with pytest.raises(CommandError, match=rf"Port {port} is in use: .* --port"):
            call_command("serve", port=port, skip_checks=True)


@pytest.mark.django_db
def test_a_port_that_does_not_exist_is_refused():
    with pytest.raises(CommandError, match="Port 70000 does not exist"):
        call_command("serve", port=70000, skip_checks=True)


@pytest.mark.parametrize(
    ("host", "address"),
    [
        ("127.0.0.1", "http://127.0.0.1:8099"),
        ("::", "http://127.0.0.1:8099"),
        ("::1", "http://[::1]:8099"),
    ],
)
def test_it_names_an_address_that_can_be_opened(host, address):
    assert serve.reached_at(host, 8099) == address


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("said", [True, False])
def test_links_lead_to_where_it_is_served_unless_the_keeper_says_where(
    said, monkeypatch, settings
):
    given: dict[str, str] = {}

    def children(**asked: object) -> contextlib.AbstractContextManager[None]:
        given.update(asked["environ"])
        return contextlib.nullcontext()

    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    port = free_port()
    settings.PUBLIC_URL, settings.PUBLIC_URL_IS_SAID = "https://boats.example", said
    monkeypatch.setattr(serve, "running", children)
    monkeypatch.setattr(serve.waitress, "create_server", interrupted)
    monkeypatch.setattr(serve.signal, "signal", lambda *_: None)
    call_command("serve", port=port, stdout=StringIO())
    leads = "https://boats.example" if said else f"http://127.0.0.1:{port}"
    assert leads == settings.PUBLIC_URL
    assert given == {"LEEBOARD_URL": leads}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A folder that is empty where the house is served first, and its own where it is served again."""
    return tmp_path_factory.mktemp("served")


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM])
def test_it_serves_until_told_to_stop_and_leaves_no_process(ending, folder):
    port = free_port()
    environ = os.environ | {"LEEBOARD_DATA": str(folder)}
    environ.pop("DATABASE_URL", None)
    command = [sys.executable, "manage.py", "serve", "--port", str(port)]
    with subprocess.Popen(command, cwd=settings.BASE_DIR, env=environ) as service:
        assert broker.wait_for(lambda: status(port) == 200, 40)
        assert broker.wait_for(lambda: len(below(service.pid)) >= 2, 20)
        started = below(service.pid)
        service.send_signal(ending)
        assert service.wait(30) == 0
    assert broker.wait_for(
        lambda: not any(Path(f"/proc/{pid}").exists() for pid in started), 10
    )
    assert status(port) == 0
