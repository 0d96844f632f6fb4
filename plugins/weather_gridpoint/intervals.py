"""Spans of time as ISO 8601 writes them: a start, a stroke, a duration."""

import re
from datetime import UTC, datetime, timedelta

from dispatch.hooks.values import Complaint
from dispatch.trade.spans import Span

_DURATION = re.compile(
    r"P(?=.)(?:(?P<weeks>\d{1,3})W)?(?:(?P<days>\d{1,4})D)?"
    r"(?:T(?=.)(?:(?P<hours>\d{1,5})H)?(?:(?P<minutes>\d{1,7})M)?(?:(?P<seconds>\d{1,9})S)?)?"
)
_LONGEST = timedelta(days=60)


def read(where: str, text: object) -> Span:
    """A ``start/duration`` in UTC. A day is 24 h: a start with an offset, not a place's clock, begins it.

    Raises:
        Complaint: it is none, has no offset, or lasts nothing or beyond two months.
    """
    try:
        first, stroke, lasting = str(text).partition("/")
        start = datetime.fromisoformat(first)
        length = duration(lasting)
    except ValueError as error:
        raise _wrong(where, text) from error
    if not stroke or start.tzinfo is None or not timedelta(0) < length <= _LONGEST:
        raise _wrong(where, text)
    return Span(start.astimezone(UTC), start.astimezone(UTC) + length)


def duration(text: str) -> timedelta:
    """The length of an ISO 8601 duration of weeks, days, hours, minutes and seconds.

    Raises:
        ValueError: it is none, or counts years or months, which have no one length.
    """
    found = _DURATION.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is no duration")
    return timedelta(**{unit: int(n) for unit, n in found.groupdict().items() if n})


def _wrong(where: str, text: object) -> Complaint:
    return Complaint(
        f"{where} has validTime {str(text)[:60]!r}; a start with its offset and a duration such as "
        "2027-05-24T06:00:00+00:00/PT6H is wanted. Nothing was taken in."
    )
