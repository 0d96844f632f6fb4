"""The next hours of a place's sky as they stand, day by day; narrow enough for a phone."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from zoneinfo import ZoneInfo

from dispatch.actions import facts, hand_sky
from dispatch.records.models import ForecastHour, Place

SHOWN = timedelta(hours=24)
_HOUR = timedelta(hours=1)
# A column's head: what is read aloud before it, what is shown, what is read aloud after it.
_HEADS = {
    "wind_ms": ("", "Wind", ""),
    "gust_ms": ("", "Gusts", ""),
    "from_deg": ("Wind ", "From", ""),
    "air_c": ("", "Air", " in the shade"),
    "dew_c": ("", "Dew", " point"),
    "cloud_pct": ("", "Cloud", ""),
    "rain_mm": ("", "Rain", ""),
    "rain_prob_pct": ("", "Chance", " of rain"),
}
_UNITS = {"inches an hour": "in/h", "mm an hour": "mm/h"}


@dataclass(frozen=True, kw_only=True)
class Head:
    """A column's head."""

    before: str
    shown: str
    after: str
    unit: str


@dataclass(frozen=True, kw_only=True)
class Row:
    """One hour; a number that is not known is empty."""

    at: str
    numbers: tuple[str, ...]
    by_hand: bool


@dataclass(frozen=True, kw_only=True)
class Day:
    """The hours of one day."""

    name: str
    rows: tuple[Row, ...]


def heads() -> list[Head]:
    """Return the heads of the columns, in the order of a row's numbers."""
    return [
        Head(before=before, shown=shown, after=after, unit=_unit(name))
        for name, (before, shown, after) in _HEADS.items()
    ]


def days(place: Place, now: datetime) -> list[Day]:
    """Return the hours from now on, by the place's own clock; none without a forecast."""
    zone = ZoneInfo(place.time_zone)
    hours = groupby(
        _hours(place, now), key=lambda hour: hour[0].at.astimezone(zone).date()
    )
    return [
        Day(
            name=f"{date:%a} {date.day} {date:%b}",
            rows=tuple(_row(*one, zone) for one in found),
        )
        for date, found in hours
    ]


def _hours(place: Place, now: datetime) -> Iterator[tuple[ForecastHour, bool]]:
    newest = facts.latest_forecast(place, now)
    if newest is None:
        return
    stands = hand_sky.of(newest)
    for hour in newest.hours.filter(at__gt=now - _HOUR, at__lt=now + SHOWN):
        yield hour, bool(stands and stands.span.holds(hour.at))


def _row(hour: ForecastHour, by_hand: bool, zone: ZoneInfo) -> Row:  # noqa: FBT001 - one of a pair
    return Row(
        at=f"{hour.at.astimezone(zone):%H:%M}",
        numbers=tuple(_number(hour, name) for name in _HEADS),
        by_hand=by_hand,
    )


def _unit(name: str) -> str:
    text = hand_sky.unit(name).text
    return _UNITS.get(text, text)


def _number(hour: ForecastHour, name: str) -> str:
    value = getattr(hour, name)
    if value is None:
        return ""
    unit = hand_sky.unit(name)
    places = 2 if "inch" in unit.text else 0
    return f"{value * unit.scale + unit.offset:.{places}f}"
