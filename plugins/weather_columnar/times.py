"""The column of times as moments, whatever clock it is told by."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from itertools import pairwise
from zoneinfo import ZoneInfo

from dispatch.hooks.values import Complaint
from dispatch.trade.sky import HOUR

EPOCH_UNITS = ("unixtime", "s", "seconds")
TEXT_UNITS = ("iso8601", "")
_NOTHING = "Nothing was taken in."


def read(payload: Mapping[str, object], unit: str, column: object) -> list[datetime]:
    """The moments of a column in UTC, an hour or more apart.

    Numbers are seconds since 1970 in UTC. Texts with an offset are what they say. Texts without one
    are the clock of ``timezone``; where none is named, of the one ``utc_offset_seconds``, which is
    right only while the clocks do not change.

    Raises:
        Complaint: a time cannot be read, or it is not sure which moment it is.
    """
    if not isinstance(column, list) or not column:
        raise Complaint(f"hourly has no list of times. {_NOTHING}")
    if unit in EPOCH_UNITS:
        moments = [_epoch(one) for one in column]
    elif unit in TEXT_UNITS:
        moments = _told(payload, column)
    else:
        raise Complaint(
            f"time is in {unit!r}; iso8601 or unixtime can be read. {_NOTHING}"
        )
    for before, after in pairwise(moments):
        if after - before < HOUR:
            raise Complaint(
                f"time has {after:%d %b %Y %H:%M} UTC less than an hour after the time before it. {_NOTHING}"
            )
    return moments


def _epoch(value: object) -> datetime:
    wrong = Complaint(
        f"time has {str(value)[:40]!r}; seconds since 1970 are wanted. {_NOTHING}"
    )
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise wrong
    try:
        return datetime.fromtimestamp(value, UTC)
    except (ValueError, OverflowError, OSError) as error:
        raise wrong from error


def _told(payload: Mapping[str, object], column: Sequence[object]) -> list[datetime]:
    texts = [_text(one) for one in column]
    bare = [one for one in texts if one.tzinfo is None]
    if not bare:
        return [one.astimezone(UTC) for one in texts]
    if len(bare) < len(texts):
        raise Complaint(f"only some of its times have an offset. {_NOTHING}")
    zone = _zone(payload)
    moments = _by_clock(texts, zone)
    _sure(texts, moments, zone)
    _fitting(payload, moments, zone)
    return moments


def _text(value: object) -> datetime:
    try:
        return datetime.fromisoformat(str(value))
    except ValueError as error:
        raise Complaint(
            f"time has {str(value)[:40]!r}; a time such as 2027-05-24T08:00 is wanted. {_NOTHING}"
        ) from error


def _zone(payload: Mapping[str, object]) -> tzinfo:
    """The clock the times are told by."""
    name, offset = payload.get("timezone"), payload.get("utc_offset_seconds")
    if isinstance(name, str) and name:
        try:
            return ZoneInfo(name)
        except (KeyError, ValueError, OSError) as error:
            raise Complaint(
                f"timezone is {name[:40]!r}, which is not known. {_NOTHING}"
            ) from error
    if isinstance(offset, int) and abs(offset) < 24 * 3600:
        return timezone(timedelta(seconds=offset))
    raise Complaint(
        f"its times have no offset, and neither timezone nor utc_offset_seconds says which clock they are by. {_NOTHING}"
    )


def _by_clock(texts: Sequence[datetime], zone: tzinfo) -> list[datetime]:
    """Wall times as moments; of an hour that comes twice the second is the later."""
    moments: list[datetime] = []
    for text in texts:
        at = text.replace(tzinfo=zone).astimezone(UTC)
        if moments and at <= moments[-1]:
            at = text.replace(tzinfo=zone, fold=1).astimezone(UTC)
        if at.astimezone(zone).replace(tzinfo=None) != text:
            raise _unsure(text)
        moments.append(at)
    return moments


def _sure(texts: Sequence[datetime], moments: Sequence[datetime], zone: tzinfo) -> None:
    """Refuse a series that does not go on evenly where the clocks change, or jumps where they do not.

    An hour left out there would be read as one that does not exist, or all after it an hour wrong.
    """
    steps = {after - before for before, after in pairwise(moments)}
    if len(steps) <= 1:
        return
    fixed = isinstance(zone, timezone)
    for (was, before), (text, after) in pairwise(zip(texts, moments, strict=True)):
        changed = (
            before.astimezone(zone).utcoffset() != after.astimezone(zone).utcoffset()
        )
        if (changed or fixed) and after - before != min(steps):
            raise _unsure(max(was, text))


def _fitting(
    payload: Mapping[str, object], moments: Sequence[datetime], zone: tzinfo
) -> None:
    """Refuse an offset that the named clock has at none of the times: one of the two is wrong."""
    offset = payload.get("utc_offset_seconds")
    if not isinstance(offset, int):
        return
    told = timedelta(seconds=offset)
    if all(moment.astimezone(zone).utcoffset() != told for moment in moments):
        raise Complaint(
            f"utc_offset_seconds is {offset}, which {payload.get('timezone')} never has at its times. {_NOTHING} "
            "Let the service answer in UTC."
        )


def _unsure(text: datetime) -> Complaint:
    return Complaint(
        f"it is not sure which moment {text:%Y-%m-%dT%H:%M} is: the clocks change and its times do not follow. "
        f"{_NOTHING} Let the service answer in UTC."
    )
