"""Write events for calendars (RFC 5545), for plugins that publish or send them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from dispatch.trade.spans import Span

# RFC 5545, 3.1: a line is at most 75 octets without its break; a folded line goes on after a space.
_OCTETS = 75


@dataclass(frozen=True, kw_only=True)
class Event:
    """One event; ``uid`` makes it known again, a higher ``sequence`` or later ``told_at`` replaces it.

    ``sure`` is false for what may not take place, ``cancelled`` is true for what will not.
    """

    uid: str
    told_at: datetime
    span: Span
    summary: str
    description: str = ""
    where: str = ""
    sequence: int = 0
    sure: bool = True
    cancelled: bool = False


def rendered(events: Sequence[Event], *, heading: Sequence[str] = ()) -> str:
    """One published calendar of the events, its moments in UTC; lines end in CRLF.

    Where every event is cancelled it takes them back (RFC 5546, 3.2.5: METHOD:CANCEL).

    ``heading`` are properties of the calendar, whole lines. There must be an event (3.6: at least one
    component).
    """
    if not events:
        raise ValueError("A calendar needs an event.")
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Leeboard//EN",
        f"METHOD:{method(events)}",
        *heading,
        *(line for event in events for line in _event(event)),
        "END:VCALENDAR",
    ]
    return "".join(f"{part}\r\n" for line in lines for part in _folded(line))


def method(events: Sequence[Event]) -> str:
    """What a calendar of such events does: publish them, or take them back."""
    return "CANCEL" if all(event.cancelled for event in events) else "PUBLISH"


def _status(event: Event) -> str:
    if event.cancelled:
        return "CANCELLED"
    return "CONFIRMED" if event.sure else "TENTATIVE"


def text(value: str) -> str:
    """A value of the type TEXT (3.3.11): no break, semicolon, comma or backslash stands bare."""
    escaped = value.replace("\\", "\\\\").replace(";", r"\;").replace(",", r"\,")
    broken = r"\n".join(escaped.splitlines())
    return "".join(letter for letter in broken if letter >= " " or letter == "\t")


def _event(event: Event) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{text(event.uid)}"
    yield f"SEQUENCE:{event.sequence}"
    yield f"DTSTAMP:{_moment(event.told_at)}"
    yield f"DTSTART:{_moment(event.span.start)}"
    yield f"DTEND:{_moment(event.span.end)}"
    yield f"SUMMARY:{text(event.summary)}"
    if event.description:
        yield f"DESCRIPTION:{text(event.description)}"
    if event.where:
        yield f"LOCATION:{text(event.where)}"
    yield f"STATUS:{_status(event)}"
    yield "END:VEVENT"


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _folded(line: str) -> Iterator[str]:
    """A line in parts of at most 75 octets, no letter cut in two."""
    part = ""
    for letter in line:
        if len((part + letter).encode()) > _OCTETS:
            yield part
            part = " "
        part += letter
    yield part
