"""One session with a message centre: connect, bind, submit, unbind."""

import contextlib
import socket
import ssl
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from time import monotonic

from dispatch.hooks.values import Complaint
from plugins.notify_sms_smpp import pdu
from plugins.notify_sms_smpp.pdu import Unit


class Broken(Exception):  # noqa: N818 - what became of the line
    """The line broke or fell silent after something was asked: nobody knows what became of it."""


class Session:
    """A bound session; each question waits for its own answer."""

    def __init__(self, line: socket.socket, until: float) -> None:
        self._line, self._until, self._sequence = line, until, 0

    def ask(self, command: int, body: bytes = b"") -> Unit:
        """Send a unit and return what answers it.

        Raises:
            Broken: no answer came.
        """
        self._sequence += 1
        unit = Unit(command=command, sequence=self._sequence, body=body)
        try:
            self._line.sendall(unit.packed())
            return self._answer()
        except (OSError, pdu.Garbled) as error:
            raise Broken(str(error) or type(error).__name__) from error

    def _answer(self) -> Unit:
        """The unit that answers the last one; the centre's own questions are answered meanwhile."""
        while True:
            unit = self._next()
            if unit.sequence == self._sequence and unit.command & pdu.RESPONSE:
                return unit
            if unit.command == pdu.ENQUIRE_LINK:
                answer = Unit(
                    command=pdu.ENQUIRE_LINK | pdu.RESPONSE, sequence=unit.sequence
                )
                self._line.sendall(answer.packed())

    def _next(self) -> Unit:
        start = self._read(4)
        return pdu.unpacked(start + self._read(pdu.length_of(start) - 4))

    def _read(self, count: int) -> bytes:
        read = b""
        while len(read) < count:
            left = self._until - monotonic()
            if left <= 0:
                raise TimeoutError("it fell silent")
            self._line.settimeout(left)
            more = self._line.recv(count - len(read))
            if not more:
                raise ConnectionError("it hung up")
            read += more
        return read


@contextmanager
def bound(options: Mapping[str, object]) -> Iterator[Session]:
    """A session with the centre that the options name, bound to transmit.

    Raises:
        Complaint: it cannot be reached, or does not let us in; nothing was sent.
    """
    host, port = str(options["host"]), int(float(str(options["port"])))
    wait = float(str(options["wait_seconds"]))
    where = f"{host}:{port}"
    try:
        line = _connected(host, port, str(options["security"]), wait)
    except OSError as error:
        raise Complaint(
            f"{where} cannot be reached ({error}); check host, port and security."
        ) from error
    with line:
        session = Session(line, monotonic() + wait)
        _bind(session, options, where)
        yield session
        with contextlib.suppress(Broken):
            session.ask(pdu.UNBIND)


def _connected(host: str, port: int, security: str, wait: float) -> socket.socket:
    line = socket.create_connection((host, port), timeout=wait)
    if security == "plain":
        return line
    return ssl.create_default_context().wrap_socket(line, server_hostname=host)


def _bind(session: Session, options: Mapping[str, object], where: str) -> None:
    names = (str(options[name]) for name in ("system_id", "password", "system_type"))
    try:
        answer = session.ask(pdu.BIND_TRANSMITTER, pdu.bind(*names))
    except Broken as broken:
        raise Complaint(f"{where} does not answer ({broken}).") from broken
    if answer.status:
        raise Complaint(
            f"{where} does not let us in (status 0x{answer.status:08X}); check system_id, password and system_type."
        )
