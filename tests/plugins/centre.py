"""A small message centre on this machine that speaks SMPP 3.4; it reads the units with its own hands."""

import socketserver
import struct
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field


@dataclass
class Centre:
    """Whom it lets in, how it answers each part in turn, and what it has taken."""

    port: int = 0
    password: bytes = b"cedar"
    statuses: list[int] = field(default_factory=list)
    taken: list[dict[str, object]] = field(default_factory=list)
    commands: list[int] = field(default_factory=list)
    asks_first: bool = False
    silent_at: int = 0
    hangs_up_at: int = 0
    says: bytes = b""
    closing: threading.Event = field(default_factory=threading.Event)


def strings(raw: bytes, count: int) -> tuple[list[bytes], bytes]:
    """So many strings that end in a zero, and what follows."""
    found = []
    for _ in range(count):
        one, _, raw = raw.partition(b"\0")
        found.append(one)
    return found, raw


def submitted(body: bytes) -> dict[str, object]:
    """The fields of a submit_sm in the order of the standard's table 4-10."""
    (_service,), rest = strings(body, 1)
    source_ton, source_npi = rest[0], rest[1]
    (source,), rest = strings(rest[2:], 1)
    ton, npi = rest[0], rest[1]
    (to,), rest = strings(rest[2:], 1)
    esm_class, _protocol, _priority = rest[:3]
    (_at, _until), rest = strings(rest[3:], 2)
    registered, _replace, coding, _default, length = rest[:5]
    assert len(rest[5:]) == length
    return {
        "from": (source_ton, source_npi, source),
        "to": (ton, npi, to),
        "esm_class": esm_class,
        "registered": registered,
        "coding": coding,
        "message": rest[5:],
    }


class _Handler(socketserver.StreamRequestHandler):
    def handle(self) -> None:
        centre: Centre = self.server.centre  # type: ignore[attr-defined]
        while header := self.rfile.read(16):
            length, command, _status, sequence = struct.unpack(">IIII", header)
            body = self.rfile.read(length - 16)
            centre.commands.append(command)
            if command & 0x80000000:
                continue
            if len(centre.commands) == centre.silent_at:
                centre.closing.wait(30)
                return
            if len(centre.commands) == centre.hangs_up_at:
                return
            if centre.says:
                self.wfile.write(centre.says)
                return
            self._answer(centre, command, sequence, body)

    def _answer(self, centre: Centre, command: int, number: int, body: bytes) -> None:
        if centre.asks_first:
            self._write(0x15, 0, 900, b"")
        status, told = 0, b""
        if command == 0x02:
            (_name, password, _kind), _ = strings(body, 3)
            status = 0 if password == centre.password else 0x0E
            told = b"PELL\0"
        elif command == 0x04:
            status = centre.statuses.pop(0) if centre.statuses else 0
            if not status:
                centre.taken.append(submitted(body))
                told = f"id-{len(centre.taken)}\0".encode()
        self._write(command | 0x80000000, status, number, told)

    def _write(self, command: int, status: int, number: int, body: bytes) -> None:
        self.wfile.write(
            struct.pack(">IIII", 16 + len(body), command, status, number) + body
        )


@contextmanager
def serving() -> Iterator[Centre]:
    """Serve for as long as the context lasts."""
    server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), _Handler)
    server.daemon_threads = True
    centre = Centre(port=server.server_address[1])
    server.centre = centre  # type: ignore[attr-defined]
    thread = threading.Thread(target=server.serve_forever, args=(0.02,))
    thread.start()
    try:
        yield centre
    finally:
        centre.closing.set()
        server.shutdown()
        thread.join()
        server.server_close()
