"""Send messages by SMTP (RFC 5321) with TLS (RFC 3207, RFC 8314)."""

import contextlib
import smtplib
import ssl
from collections.abc import Mapping
from dataclasses import dataclass

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, Message, Receipt
from plugins.notify_email import address, letter

# RFC 5321, 4.2.1: the first digit of a reply tells whether it is worth trying again.
_OK, _FOR_GOOD = 2, 5


@dataclass(frozen=True, kw_only=True)
class Line:
    """The way to the mail server, and who speaks on it."""

    host: str
    port: int
    security: str
    user: str
    password: str
    trust_file: str
    wait_seconds: float


class NotifyEmail:
    """The send hook over one mail server, a connection a message."""

    def __init__(self, line: Line, *, sender: str, sender_name: str) -> None:
        self._line, self._sender, self._name = line, sender, sender_name

    @hookimpl
    def send(self, message: Message) -> Receipt:
        """Hand the message to the server; what it refuses for good is refused, the rest may be tried again."""
        to = address.plain(message.to)
        if not to:
            return Receipt(
                status="refused", said=f"{message.to!r} is no e-mail address"
            )
        whole = letter.written(
            message, to=to, sender=self._sender, sender_name=self._name
        )
        smtp = _open(self._line)
        try:
            return self._hand_over(smtp, to, whole)
        finally:
            with contextlib.suppress(OSError, smtplib.SMTPException):
                smtp.quit()
            smtp.close()

    def _hand_over(self, smtp: smtplib.SMTP, to: str, whole: bytes) -> Receipt:
        """Name sender and recipient, then the message itself."""
        try:
            self._answered("the sender", smtp.mail(self._sender))
            code, said = smtp.rcpt(to)
        except (OSError, smtplib.SMTPException) as error:
            raise Complaint(f"{self._line.host} broke off ({error}).") from error
        if code // 100 == _FOR_GOOD:
            return Receipt(status="refused", said=_told(code, said))
        self._answered("the address", (code, said))
        return self._data(smtp, whole)

    def _data(self, smtp: smtplib.SMTP, whole: bytes) -> Receipt:
        """Hand over the message; after its first byte a line that breaks leaves it open whether it was taken."""
        try:
            code, said = smtp.data(whole)
        except smtplib.SMTPDataError as error:
            code, said = error.smtp_code, _bytes(error.smtp_error)
        except (OSError, smtplib.SMTPException) as error:
            return Receipt(status="unknown", said=f"the line broke ({error})")
        if code // 100 == _FOR_GOOD:
            return Receipt(status="refused", said=_told(code, said))
        self._answered("the message", (code, said))
        return Receipt(status="accepted", said=_told(code, said))

    def _answered(self, what: str, reply: tuple[int, bytes]) -> None:
        """Go on after a good reply.

        Raises:
            Complaint: the server did not take it; it may be tried again.
        """
        if reply[0] // 100 != _OK:
            raise Complaint(f"{self._line.host} did not take {what}: {_told(*reply)}.")


def make(options: Mapping[str, object]) -> NotifyEmail:
    """The plugin's object with its options."""
    line = Line(
        host=str(options["host"]).strip(),
        port=int(float(str(options["port"]))),
        security=str(options["security"]),
        user=str(options["user"]),
        password=str(options["password"]),
        trust_file=str(options["trust_file"]),
        wait_seconds=float(str(options["wait_seconds"])),
    )
    return NotifyEmail(
        line,
        sender=address.plain(str(options["sender"])),
        sender_name=str(options["sender_name"]),
    )


def _open(line: Line) -> smtplib.SMTP:
    """A connection that is encrypted and signed in.

    Raises:
        Complaint: the server cannot be reached, is not who it says, or does not let us in.
    """
    where = f"{line.host}:{line.port}"
    try:
        smtp = _connected(line)
    except ssl.SSLCertVerificationError as error:
        raise Complaint(
            f"the certificate of {where} is not trusted ({error.verify_message}); check host, or give its issuer in trust_file."
        ) from error
    except smtplib.SMTPAuthenticationError as error:
        raise Complaint(
            f"{where} does not let {line.user} in ({error.smtp_code}); check user and password."
        ) from error
    except smtplib.SMTPNotSupportedError as error:
        raise Complaint(f"{where} cannot do what security asks: {error}") from error
    except (OSError, smtplib.SMTPException, ValueError) as error:
        raise Complaint(
            f"{where} cannot be spoken to ({error}); check host, port and security."
        ) from error
    return smtp


def _connected(line: Line) -> smtplib.SMTP:
    if line.security == "implicit":
        smtp: smtplib.SMTP = smtplib.SMTP_SSL(
            line.host, line.port, timeout=line.wait_seconds, context=_trust(line)
        )
    else:
        smtp = smtplib.SMTP(line.host, line.port, timeout=line.wait_seconds)
    try:
        if line.security == "starttls":
            smtp.ehlo_or_helo_if_needed()
            smtp.starttls(context=_trust(line))
        smtp.ehlo_or_helo_if_needed()
        if line.user:
            smtp.login(line.user, line.password)
    except BaseException:
        smtp.close()
        raise
    return smtp


def _trust(line: Line) -> ssl.SSLContext:
    context = ssl.create_default_context()
    if line.trust_file:
        context.load_verify_locations(line.trust_file)
    return context


def _told(code: int, said: bytes) -> str:
    """A reply of the server as a person reads it."""
    words = _bytes(said).decode("utf-8", "replace")
    return f"{code} {' '.join(words.split())}"[:150]


def _bytes(said: object) -> bytes:
    return said if isinstance(said, bytes) else str(said).encode()
