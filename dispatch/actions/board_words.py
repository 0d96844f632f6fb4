"""Moments and lengths of time as a board writes them."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.trade.spans import Span


def when(moment: datetime, zone: ZoneInfo) -> str:
    """A moment of the week: ``Mon 11:30``."""
    return f"{moment.astimezone(zone):%a %H:%M}"


def dated(moment: datetime, zone: ZoneInfo) -> str:
    """A moment with its date: ``Mon 24 May 11:30``."""
    local = moment.astimezone(zone)
    return f"{of_day(local)} {local:%H:%M}"


def of_day(day: date) -> str:
    """A day: ``Mon 24 May``."""
    return f"{day:%a} {day.day} {day:%b}"


def between(span: Span, zone: ZoneInfo) -> str:
    """A span: ``Mon 11:30-13:00``, or with both days where it crosses midnight."""
    start, end = span.start.astimezone(zone), span.end.astimezone(zone)
    last = end - timedelta(microseconds=1)
    if start.date() == last.date() and end.date() == start.date():
        return f"{start:%a %H:%M}-{end:%H:%M}"
    return f"{start:%a %H:%M} to {end:%a %H:%M}"


def lasting(minutes: float) -> str:
    """A length of time: ``35 min``, ``3 h``, ``3 h 25``, ``2 days 4 h``."""
    whole = round(abs(minutes))
    if whole < 60:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    if hours >= 48:
        days, over = divmod(hours, 24)
        return f"{days} days {over} h" if over else f"{days} days"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def names(given: Sequence[str]) -> str:
    """Names in a row: ``Ada``, ``Ada and Ben``, ``Ada, Ben and Cy``."""
    if len(given) < 2:
        return "".join(given)
    return f"{', '.join(given[:-1])} and {given[-1]}"


def opening(text: str, known: Iterable[str]) -> str:
    """A text's first sentence, without its full stop; one in a name that is known ("St. Elmo") ends none."""
    read = text
    for name in known:
        read = read.replace(name, "-" * len(name))
    end = read.find(". ")
    return (text if end < 0 else text[:end]).rstrip(".")
