"""A message as the bytes that a mail server takes (RFC 5322)."""

import hashlib
from email import policy
from email.headerregistry import Address
from email.message import EmailMessage
from email.utils import localtime

from dispatch.hooks import calendar
from dispatch.hooks.values import Message

_LONGEST_SUBJECT = 200


def written(message: Message, *, to: str, sender: str, sender_name: str) -> bytes:
    """The message with its headers, and its visit as an attachment; ``to`` and ``sender`` are plain addresses.

    The same message has the same Message-ID however often it is written.
    """
    local, _, domain = sender.rpartition("@")
    letter = EmailMessage(policy=policy.SMTP)
    letter["From"] = Address(_one_line(sender_name), local, domain)
    letter["To"] = to
    letter["Subject"] = _one_line(message.subject or message.reason)
    letter["Date"] = localtime()
    letter["Message-ID"] = f"<{_word(message.key)}@{domain}>"
    # RFC 3834: no out-of-office answer is wanted.
    letter["Auto-Submitted"] = "auto-generated"
    letter.set_content(message.body, cte="quoted-printable")
    if message.appointment is not None:
        _attach(letter, message, domain)
    return letter.as_bytes()


def _attach(letter: EmailMessage, message: Message, domain: str) -> None:
    """Add the visit, which calendars take in from a file of its own."""
    visit = message.appointment
    if visit is None:
        return
    event = calendar.Event(
        uid=f"{_word(visit.uid)}@{domain}",
        sequence=visit.sequence,
        told_at=visit.told_at,
        span=visit.span,
        summary=_one_line(message.subject or message.reason),
        description=message.body,
        where=visit.where,
        cancelled=visit.cancelled,
    )
    text = calendar.rendered([event])
    letter.add_attachment(
        text.encode(), maintype="text", subtype="calendar", filename="visit.ics"
    )
    part = list(letter.iter_attachments())[-1]
    part.set_param("charset", "utf-8")
    part.set_param("method", calendar.method([event]))


def _one_line(text: str) -> str:
    """A text that fits into one header: a break in it would begin another."""
    shown = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(shown.split())[:_LONGEST_SUBJECT]


def _word(key: str) -> str:
    """A key as letters that fit between the brackets of a Message-ID, and tell nobody what it was."""
    return hashlib.sha256(key.encode()).hexdigest()[:32]
