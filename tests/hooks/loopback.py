"""A real HTTP server on this machine that answers as a test has written down."""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from email.message import Message
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BufferedIOBase


@dataclass(frozen=True, kw_only=True)
class Reply:
    """One answer: its status, headers and body; ``slow_s`` passes before each of its last bytes."""

    status: int = 200
    body: bytes = b""
    headers: dict[str, str] = field(default_factory=dict)
    slow_s: float = 0.0


def told(data: object, **headers: str) -> Reply:
    """A body of JSON, with headers whose names are written with underscores."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return Reply(body=json.dumps(data).encode(), headers=named)


class Loopback:
    """What is answered where, and what was asked; of several replies each is given once, the last for ever."""

    def __init__(self, port: int) -> None:
        self.address = f"http://127.0.0.1:{port}"
        self.replies: dict[str, list[Reply]] = {}
        self.asked: list[tuple[str, Message]] = []
        self.closing = threading.Event()

    def answers(self, path: str, *replies: Reply) -> None:
        self.replies[path] = list(replies)

    def next(self, path: str, headers: Message) -> Reply:
        self.asked.append((path, headers))
        left = self.replies.get(path.partition("?")[0], [Reply(status=404)])
        reply = left.pop(0) if len(left) > 1 else left[0]
        known = headers.get("If-None-Match")
        if known and known == reply.headers.get("ETag"):
            return Reply(status=304)
        return reply

    def paths(self) -> list[str]:
        return [path for path, _ in self.asked]


def write(reply: Reply, out: BufferedIOBase, closing: threading.Event) -> None:
    if not reply.slow_s:
        out.write(reply.body)
        return
    for byte in reply.body:
        if closing.wait(reply.slow_s):
            return
        try:
            out.write(bytes([byte]))
        except OSError:
            return


@contextmanager
def running() -> Iterator[Loopback]:
    """Serve for as long as the context lasts."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            reply = loopback.next(self.path, self.headers)
            self.send_response(reply.status)
            headers = {"Content-Length": str(len(reply.body))} | reply.headers
            for name, value in headers.items():
                self.send_header(name, value)
            self.end_headers()
            write(reply, self.wfile, loopback.closing)

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    loopback = Loopback(server.server_port)
    serving = threading.Thread(target=server.serve_forever, args=(0.02,))
    serving.start()
    try:
        yield loopback
    finally:
        loopback.closing.set()
        server.shutdown()
        serving.join()
        server.server_close()
