"""A visit as an iCalendar object (RFC 5545)."""

from collections.abc import Iterator
from datetime import UTC, datetime

from dispatch.hooks.values import Appointment

# RFC 5545, 3.1: a line is at most 75 octets without its break; a folded line goes on after a space.
_OCTETS = 75


def rendered(visit: Appointment, *, summary: str, description: str, uid: str) -> str:
    """The visit as one published event, its moments in UTC; lines end in CRLF.

    ``uid`` makes the event known again: told anew with a higher sequence it moves in the calendar.
    """
    lines = (
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Leeboard//notify_email//EN",
        "METHOD:PUBLISH",
        "BEGIN:VEVENT",
        f"UID:{_text(uid)}",
        f"SEQUENCE:{visit.sequence}",
        f"DTSTAMP:{_moment(visit.told_at)}",
        f"DTSTART:{_moment(visit.span.start)}",
        f"DTEND:{_moment(visit.span.end)}",
        f"SUMMARY:{_text(summary)}",
        f"DESCRIPTION:{_text(description)}",
        *([f"LOCATION:{_text(visit.where)}"] if visit.where else []),
        "END:VEVENT",
        "END:VCALENDAR",
    )
    return "".join(f"{part}\r\n" for line in lines for part in _folded(line))


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(value: str) -> str:
    """A value of the type TEXT (3.3.11): no break, semicolon, comma or backslash stands bare."""
    escaped = value.replace("\\", "\\\\").replace(";", r"\;").replace(",", r"\,")
    broken = r"\n".join(escaped.splitlines())
    return "".join(letter for letter in broken if letter >= " " or letter == "\t")


def _folded(line: str) -> Iterator[str]:
    """A line in parts of at most 75 octets, no letter cut in two."""
    part = ""
    for letter in line:
        if len((part + letter).encode()) > _OCTETS:
            yield part
            part = " "
        part += letter
    yield part
