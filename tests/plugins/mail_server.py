"""A mail server on loopback that keeps what it is handed (RFC 5321), with TLS by a certificate of its own."""

import base64
import socketserver
import ssl
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event, Thread


@dataclass(kw_only=True)
class Kept:
    """What came in, and what the server is to answer: a verb's reply, or "" to hang up on it.

    While it ``holds``, a letter that came in is answered when ``held`` is set.
    """

    letters: list[bytes] = field(default_factory=list)
    recipients: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    signed_in: list[str] = field(default_factory=list)
    replies: dict[str, str] = field(default_factory=dict)
    held: Event = field(default_factory=Event)
    holds: bool = False
    tls: ssl.SSLContext | None = None
    implicit: bool = False
    port: int = 0


class _Conversation(socketserver.StreamRequestHandler):
    """One client, until it quits or is hung up on."""

    timeout = 5
    server: "_Server"

    def handle(self) -> None:
        self.kept, self.encrypted = self.server.kept, False
        try:
            if self.kept.implicit:
                self._encrypt()
            self._reply("220 mail.pell.test")
            while (line := self.rfile.readline()) and self._answer(line.strip()):
                pass
        except (OSError, ssl.SSLError):
            return

    def _answer(self, line: bytes) -> bool:
        """Answer one command; False hangs up."""
        verb, _, rest = line.decode().partition(" ")
        verb = verb.upper()
        self.kept.said.append(verb)
        if verb in self.kept.replies:
            return self._reply(self.kept.replies[verb])
        return getattr(self, f"_{verb.lower()}", self._strange)(rest)

    def _reply(self, text: str) -> bool:
        self.wfile.write(text.encode() + b"\r\n" if text else b"")
        self.wfile.flush()
        return bool(text)

    def _strange(self, rest: str) -> bool:
        return self._reply("502 not here")

    def _ehlo(self, rest: str) -> bool:
        offers = ["AUTH PLAIN"] if self.encrypted or not self.kept.tls else ["STARTTLS"]
        return self._reply("\r\n".join(["250-mail.pell.test", f"250 {offers[0]}"]))

    def _starttls(self, rest: str) -> bool:
        self._reply("220 go ahead")
        self._encrypt()
        return True

    def _encrypt(self) -> None:
        assert self.kept.tls is not None
        self.connection = self.kept.tls.wrap_socket(self.connection, server_side=True)
        self.rfile = self.connection.makefile("rb")
        self.wfile = self.connection.makefile("wb")
        self.encrypted = True

    def _auth(self, rest: str) -> bool:
        _, user, password = base64.b64decode(rest.split()[1]).decode().split("\0")
        self.kept.signed_in.append(user)
        good = password == "cedar and copper"  # noqa: S105 - of a server in a test
        return self._reply("235 welcome" if good else "535 5.7.8 no")

    def _mail(self, rest: str) -> bool:
        return self._reply("250 2.1.0 ok")

    def _rcpt(self, rest: str) -> bool:
        self.kept.recipients.append(rest)
        return self._reply("250 2.1.5 ok")

    def _data(self, rest: str) -> bool:
        self._reply("354 go on")
        lines = []
        while (line := self.rfile.readline()) != b".\r\n":
            if not line:
                return False
            lines.append(line[1:] if line.startswith(b".") else line)
        self.kept.letters.append(b"".join(lines))
        if self.kept.holds:
            self.kept.held.wait(40)
        return self._reply(self.kept.replies.get("after", "250 2.0.0 queued as 7"))

    def _quit(self, rest: str) -> bool:
        self._reply("221 bye")
        return False

    def finish(self) -> None:
        for end in (self.wfile, self.rfile, self.connection):
            with suppress(OSError):
                end.close()


class _Server(socketserver.ThreadingTCPServer):
    allow_reuse_address = True
    daemon_threads = False
    kept: Kept


@contextmanager
def serving(
    certificate: Path | None = None, *, implicit: bool = False
) -> Iterator[Kept]:
    """Run a server; with a certificate it offers STARTTLS, or speaks TLS from the first byte."""
    kept = Kept(implicit=implicit)
    if certificate:
        kept.tls = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        kept.tls.load_cert_chain(certificate, certificate.with_suffix(".key"))
    with _Server(("127.0.0.1", 0), _Conversation) as server:
        server.kept, kept.port = kept, server.server_address[1]
        thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        try:
            yield kept
        finally:
            kept.held.set()
            server.shutdown()
            thread.join()


def certificate(folder: Path, name: str = "localhost") -> Path:
    """Make a certificate for a host and its key beside it, with the openssl of the system."""
    made = folder / f"{name}.pem"
    words = f"req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 -subj /CN={name}"
    files = ["-addext", f"subjectAltName=DNS:{name}", "-out", str(made)]
    key = ["-keyout", str(made.with_suffix(".key"))]
    subprocess.run(
        ["openssl", *words.split(), *files, *key],  # noqa: S607 - wherever the system has it
        check=True,
        capture_output=True,
    )
    return made
