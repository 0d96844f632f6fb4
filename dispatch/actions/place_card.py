"""What the crew must know of a place on a day: the way in, its rules and hours, what stands near, water and power."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import wettings
from dispatch.records.models import Closure, Place
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_POINTS = (
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
)


@dataclass(frozen=True, kw_only=True)
class PlaceCard:
    """One place on one day, in sentences; times are the place's own."""

    name: str
    address: str
    gate: str
    rules: str
    hours: tuple[str, ...]
    shut: tuple[str, ...]
    neighbours: tuple[str, ...]
    supplies: tuple[str, ...]
    spraying: str
    zone: ZoneInfo


def of(place: Place, day: date, words: Words) -> PlaceCard:
    """The card of a place on a date; what nobody entered is said to be unknown."""
    zone = ZoneInfo(place.time_zone)
    return PlaceCard(
        name=place.name,
        address=place.address,
        gate=place.gate,
        rules=place.rules,
        hours=tuple(_hours(place, day)),
        shut=tuple(_shut(place, _whole(day, zone), zone)),
        neighbours=tuple(_neighbours(place, words)),
        supplies=(
            "Water there" if place.water else "No water: bring it",
            "Power there" if place.power else "No power: bring the generator",
        ),
        spraying=place.get_spray_rule_display()
        + ("" if place.two_part_allowed else "; no two-part products"),
        zone=zone,
    )


def _hours(place: Place, day: date) -> Iterator[str]:
    for row in place.access_hours.all():
        if row.weekday == day.weekday():
            yield f"{row.start:%H:%M} to {row.end:%H:%M}"


def _whole(day: date, zone: ZoneInfo) -> Span:
    start = datetime.combine(day, time(0), tzinfo=zone)
    return Span(start, start + timedelta(days=1))


def _shut(place: Place, day: Span, zone: ZoneInfo) -> Iterator[str]:
    rows = place.closures.filter(start__lt=day.end, end__gt=day.start)
    wetting = Closure.Kind.WETTING.label
    told = [
        *((Span(r.start, r.end), Closure.Kind(r.kind).label, r.reason) for r in rows),
        *((span, wetting, what) for span, what in wettings.by_the_clock(place, day)),
    ]
    for span, kind, reason in sorted(told, key=lambda one: one[0].start):
        start, end = (
            f"{moment.astimezone(zone):%H:%M}"
            for moment in (max(span.start, day.start), min(span.end, day.end))
        )
        until = "24:00" if span.end >= day.end else end
        yield f"{kind} {start} to {until}: {reason}"


def _neighbours(place: Place, words: Words) -> Iterator[str]:
    for row in place.neighbours:
        sheeted = "sheeted" if row.get("sheeted") else "not sheeted"
        far = words.distance(row["distance_m"])
        yield f"{row['what']}: {far} to the {_point(row['bearing_deg'])} ({row['bearing_deg']:.0f}°), {sheeted}"


def _point(bearing_deg: float) -> str:
    return _POINTS[round(bearing_deg / 45) % 8]
