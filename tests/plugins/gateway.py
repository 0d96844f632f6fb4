"""An HTTP gateway on loopback that keeps what it is asked and answers as it is told."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Event, Thread


@dataclass(kw_only=True)
class Asked:
    """One request as it came in."""

    method: str
    path: str
    headers: dict[str, str]
    body: bytes


@dataclass(kw_only=True)
class Gateway:
    """What came in, and what is answered: status 0 hangs up without a word, ``hangs`` says nothing for long."""

    asked: list[Asked] = field(default_factory=list)
    status: int = 202
    answer: bytes = b'{"messages": [{"id": "m-7"}]}'
    location: str = ""
    hangs: bool = False
    over: Event = field(default_factory=Event)
    port: int = 0

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}/v1/messages"


class _Handler(BaseHTTPRequestHandler):
    server: "_Server"

    def do_POST(self) -> None:
        self._serve()

    def do_PUT(self) -> None:
        self._serve()

    def do_GET(self) -> None:
        self._serve()

    def _serve(self) -> None:
        gateway = self.server.gateway
        body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        gateway.asked.append(
            Asked(
                method=self.command,
                path=self.path,
                headers=dict(self.headers),
                body=body,
            )
        )
        if gateway.hangs:
            gateway.over.wait(5)
        if gateway.status and not gateway.hangs:
            with suppress(OSError):
                self._answer(gateway)

    def _answer(self, gateway: Gateway) -> None:
        self.send_response(gateway.status)
        if gateway.location:
            self.send_header("Location", gateway.location)
        self.send_header("Content-Length", str(len(gateway.answer)))
        self.end_headers()
        self.wfile.write(gateway.answer)

    def log_message(self, *words: object) -> None:
        """Say nothing."""


class _Server(ThreadingHTTPServer):
    daemon_threads = False
    gateway: Gateway


@contextmanager
def serving() -> Iterator[Gateway]:
    """Run a gateway for a block."""
    gateway = Gateway()
    with _Server(("127.0.0.1", 0), _Handler) as server:
        server.gateway, gateway.port = gateway, server.server_address[1]
        thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        try:
            yield gateway
        finally:
            gateway.over.set()
            server.shutdown()
            thread.join()
