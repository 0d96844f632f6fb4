"""`manage.py serve`: the whole service from one command, until Ctrl-C."""

import errno
import signal
import socket
from argparse import ArgumentParser
from types import FrameType
from typing import Any

import waitress
from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.core.servers.basehttp import get_internal_wsgi_application

from dispatch.actions import first_run
from dispatch.cli.embedded import EmbeddedError, running

THREADS = 8


class Command(BaseCommand):
    """Serve the pages, the clock, a worker and, where none is set, a broker."""

    help = "Serve pages, clock, worker and broker from one command, until Ctrl-C."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--port", type=int, default=8000, help="port (8000)")
        parser.add_argument("--host", default="127.0.0.1", help="address (127.0.0.1)")

    def handle(self, *_: object, **options: Any) -> None:  # noqa: ANN401 - mixed by nature
        host, port = options["host"], options["port"]
        if not 1 <= port <= 65535:
            raise CommandError(f"Port {port} does not exist: give one from 1 to 65535.")
        for ending in (signal.SIGTERM, signal.SIGINT):
            signal.signal(ending, stop)
        with listening(host, port) as door:
            call_command("migrate", interactive=False, verbosity=0)
            address = reached_at(host, port)
            # Links lead to where it is served, unless the keeper says where.
            if not settings.PUBLIC_URL_IS_SAID:
                settings.PUBLIC_URL = address
            try:
                self._serve(door, address)
            except EmbeddedError as trouble:
                raise CommandError(str(trouble)) from trouble
            except KeyboardInterrupt:
                pass
        self.stdout.write("Stopped.")

    def _serve(self, door: socket.socket, address: str) -> None:
        """Answer pages in this process while the children run beside it."""
        app = get_internal_wsgi_application()
        environ = {"LEEBOARD_URL": settings.PUBLIC_URL}
        with running(worker=True, beat=True, environ=environ):
            pages = waitress.create_server(app, sockets=[door], threads=THREADS)
            self.stdout.write(f"Leeboard is at {address} (Ctrl-C stops it).")
            if first_run.empty():
                self.stdout.write(
                    f"It is empty. Make it yours at {address}/start/?word={first_run.word()}"
                )
            self.stdout.flush()
            pages.run()


def stop(_number: int, _frame: FrameType | None) -> None:
    """Turn SIGTERM into the same orderly end as Ctrl-C, which a shell may have switched off."""
    raise KeyboardInterrupt


def reached_at(host: str, port: int) -> str:
    """Return the address to open: one that listens everywhere is reached at home."""
    name = "127.0.0.1" if host in ("", "0.0.0.0", "::") else host  # noqa: S104 - compared, not bound
    return f"http://{f'[{name}]' if ':' in name else name}:{port}"


def listening(host: str, port: int) -> socket.socket:
    """Return a bound socket; a port in use raises CommandError with what to do."""
    try:
        return socket.create_server((host, port))
    except OSError as error:
        if error.errno == errno.EADDRINUSE:
            raise CommandError(
                f"Port {port} is in use: stop what runs there, or give another with --port."
            ) from error
        raise CommandError(
            f"Cannot open {host} port {port}: {error.strerror}."
        ) from error
