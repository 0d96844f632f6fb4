"""What is known to wet the boats of a place: at a date, or by the clock on some days of every week, as a sprinkler does."""

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from dispatch.records.models import Closure, Place
from dispatch.trade.spans import Span

_ONE_DAY = timedelta(days=1)


def spans(place: Place, horizon: Span) -> tuple[Span, ...]:
    """Every wetting of a place that touches a span."""
    dated = (
        Span(row.start, row.end)
        for row in place.closures.all()
        if row.kind == Closure.Kind.WETTING
    )
    weekly = (span for span, _ in by_the_clock(place, horizon))
    return tuple(
        one
        for one in (*dated, *weekly)
        if one.start < horizon.end and one.end > horizon.start
    )


def by_the_clock(place: Place, horizon: Span) -> Iterator[tuple[Span, str]]:
    """Those that come every week and touch a span, with what wets; by the place's own clock."""
    zone = ZoneInfo(place.time_zone)
    day, last = (one.astimezone(zone).date() for one in (horizon.start, horizon.end))
    # What begins the evening before may last past midnight.
    day -= _ONE_DAY
    while place.wettings and day <= last:
        for row in place.wettings:
            if day.weekday() in row["days"]:
                span = _on(day, row, zone)
                if span.start < horizon.end and span.end > horizon.start:
                    yield span, row["what"]
        day += _ONE_DAY


def comes(place: Place, at: datetime) -> bool:
    """Whether anything is known to wet the boats there after a moment."""
    dated = place.closures.filter(kind=Closure.Kind.WETTING, end__gt=at)
    return bool(place.wettings) or dated.exists()


def _on(day: date, row: Mapping[str, Any], zone: ZoneInfo) -> Span:
    """A row on a date: to the next day where it ends no later by the clock than it begins."""
    start, end = (time.fromisoformat(row[edge]) for edge in ("from", "to"))
    over = day + _ONE_DAY if end <= start else day
    return Span(
        datetime.combine(day, start, tzinfo=zone).astimezone(UTC),
        datetime.combine(over, end, tzinfo=zone).astimezone(UTC),
    )
