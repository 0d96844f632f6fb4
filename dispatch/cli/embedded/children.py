"""The children together: start in order, watch, end in the opposite order."""

import contextlib
import os
import sys
import threading
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from django.conf import settings

from dispatch.cli.embedded import broker
from dispatch.cli.embedded.child import Child

BROKER = "broker"
APP = "dispatch.config.celery:app"
BROKER_PATIENCE_SECONDS = 15.0
END_PATIENCE_SECONDS = 10.0
LOOK_SECONDS = 0.25
# A container's only user may be root; the operator's page says to use a user of its own.
QUIET = "ignore:You're running the worker with superuser privileges"


class EmbeddedError(RuntimeError):
    """The service cannot start; the text says why and what to do."""


class Children:
    """The watched children, in the order they start."""

    def __init__(self, environ: Mapping[str, str]) -> None:
        self.environ = {"PYTHONWARNINGS": QUIET} | dict(os.environ) | dict(environ)
        self.all: list[Child] = []
        self._ended = threading.Event()
        self._watcher = threading.Thread(target=self._watch, name="watch", daemon=True)

    def child(self, name: str) -> Child:
        """Return the child of that name; KeyError when it is not ours to run."""
        return {child.name: child for child in self.all}[name]

    def add(self, name: str, command: Sequence[str]) -> Child:
        """Start one more child."""
        child = Child(name, command, folder=settings.BASE_DIR, environ=self.environ)
        child.start()
        self.all.append(child)
        return child

    def watch(self) -> None:
        """Begin to start again whatever dies."""
        self._watcher.start()

    def end(self) -> None:
        """End every child, the broker last."""
        self._ended.set()
        if self._watcher.is_alive():
            self._watcher.join()
        for child in reversed(self.all):
            child.end(END_PATIENCE_SECONDS)

    def _watch(self) -> None:
        while not self._ended.wait(LOOK_SECONDS):
            for child in self.all:
                if child.watch() and child.name == BROKER:
                    self._renew_others()

    def _renew_others(self) -> None:
        """Have all but the broker begin anew: now and then one waits for ever on a connection that died with it."""
        for child in self.all:
            if child.name != BROKER:
                child.renew()


def celery(*words: str) -> list[str]:
    """Return the command that runs one part of Celery with this project's app."""
    return [sys.executable, "-m", "celery", "-A", APP, "--skip-checks", "-q", *words]


def worker(options: Sequence[str] = ()) -> list[str]:
    """Return the worker's command."""
    size = str(settings.WORKER_PROCESSES)
    quiet = ("--without-gossip", "--without-mingle", "--loglevel", "WARNING")
    return celery("worker", "-O", "fair", "--concurrency", size, *quiet, *options)


def beat() -> list[str]:
    """Return the clock's command; its timetable is short, so nothing is kept between starts."""
    return celery("beat", "--scheduler", "celery.beat:Scheduler", "--pidfile", "")


@contextlib.contextmanager
def running(
    *,
    worker: bool = True,
    beat: bool = False,
    worker_options: Sequence[str] = (),
    environ: Mapping[str, str] | None = None,
) -> Iterator[Children]:
    """Run broker, worker and clock while the block runs; EmbeddedError when the broker cannot start.

    With REDIS_URL set, or a broker already on this data folder's socket, no broker is started.
    The environment given is the children's alone. A child that dies is started again.
    """
    children = Children(environ or {})
    try:
        if not settings.REDIS_URL:
            _start_broker(children, Path(settings.BROKER_SOCKET))
        _start_celery(children, worker_options if worker else None, with_beat=beat)
        children.watch()
        yield children
    finally:
        children.end()


def _start_celery(
    children: Children, worker_options: Sequence[str] | None, *, with_beat: bool
) -> None:
    """Start the worker, if it has options, and the clock, if wanted."""
    if worker_options is not None:
        children.add("worker", worker(worker_options))
    if with_beat:
        children.add("clock", beat())


def _start_broker(children: Children, sock: Path) -> None:
    """Start a broker on the socket, unless one answers there already."""
    broker.private_folder(sock)
    if broker.answers(sock):
        return
    found = broker.server()
    if found is None:
        raise EmbeddedError(
            "No broker for this machine: install redis-server, or set REDIS_URL to one that runs."
        )
    child = children.add(BROKER, broker.command(*found, sock))
    if not broker.wait_for(lambda: broker.answers(sock), BROKER_PATIENCE_SECONDS):
        raise EmbeddedError(
            f"The broker {child.command[0]} did not answer within "
            f"{BROKER_PATIENCE_SECONDS:.0f} s: {sock.parent / 'server.log'} says why."
        )
