"""What the fields of a place may be set to; what is wrong comes back as a sentence by field."""

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from datetime import datetime, time, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import available_timezones

from dispatch.records.models import Closure, Place

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_TEXTS = {"name": (1, 80), "address": (0, 200), "gate": (0, 200), "rules": (0, 2000)}
# The least and the most, in what a place is stored in; True where it may be left empty.
NUMBERS: Mapping[str, tuple[float, float, bool]] = {
    "latitude": (-90, 90, False),
    "longitude": (-180, 180, False),
    "declination_deg": (-90, 90, True),
    "sign_in_minutes": (0, 120, False),
    "swing_room_m": (0, 200, True),
    "water_off_m": (0, 5000, True),
    "wind_factor": (0, 3, False),
    "day_offset_k": (-15, 15, False),
    "night_offset_k": (-15, 15, False),
}
_CHOICES = {"spray_rule": Place.SprayRule, "heat_rule": Place.HeatRule}
_YES_OR_NO = {"two_part_allowed", "afloat", "water", "power"}
_FARTHEST_M = 500.0
_LONGEST = timedelta(days=2 * 366)


def faults(values: Mapping[str, Any]) -> dict[str, str]:
    """What is wrong with new values of a place, a sentence by field; empty where nothing is."""
    return {n: said for n, value in values.items() if (said := _fault(n, value))}


def _fault(name: str, value: Any) -> str:  # noqa: ANN401 - whatever was sent
    rows: Mapping[str, Callable[[Any], Iterator[str]]] = {
        "hours": _hours,
        "closures": _closures,
        "neighbours": _near,
        "horizon": _high,
        "wettings": _wet,
    }
    if name in rows:
        return next(rows[name](value), "")
    if name in _TEXTS:
        return _text(name, value)
    return _number(name, value) if name in NUMBERS else _one_of(name, value)


def _one_of(name: str, value: Any) -> str:  # noqa: ANN401
    known: Mapping[str, tuple[Collection[Any], str]] = {
        **{
            key: (choices.values, f"Choose one of {', '.join(choices.values)}.")
            for key, choices in _CHOICES.items()
        },
        **dict.fromkeys(_YES_OR_NO, ((True, False), "Say yes or no.")),
        "time_zone": (
            available_timezones(),
            f"There is no time zone {str(value)[:60]}. Write it as America/New_York.",
        ),
    }
    if name not in known:
        return f"A place has no {name} to change."
    allowed, said = known[name]
    return "" if value in allowed else said


def _text(name: str, value: Any) -> str:  # noqa: ANN401
    least, most = _TEXTS[name]
    if not isinstance(value, str) or not least <= len(value.strip()) <= most:
        return f"Give it {'a text' if not least else 'a name'} of at most {most} characters."
    return ""


def _number(name: str, value: Any) -> str:  # noqa: ANN401
    least, most, may_lack = NUMBERS[name]
    if value is None and may_lack:
        return ""
    if _inside(value, least, most):
        return ""
    swapped = (
        " Latitude and longitude may be swapped."
        if name == "latitude" and _inside(value, -180, 180)
        else ""
    )
    return f"Give a number from {least:g} to {most:g}.{swapped}"


def _inside(value: Any, least: float, most: float) -> bool:  # noqa: ANN401
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and math.isfinite(value)
        and least <= value <= most
    )


def _hours(rows: Sequence[tuple[int, time | None, time | None]]) -> Iterator[str]:
    """Hours of a weekday end after they start and do not overlap."""
    for day, start, end in rows:
        if start is None or end is None or end <= start:
            yield f"{WEEKDAYS[day]}: give both times, the later one last; leave both empty where it is shut."
            return
    for (day, _, end), (next_day, start, _) in pairwise(sorted(rows)):
        if day == next_day and end is not None and start is not None and start < end:
            yield f"{WEEKDAYS[day]}: the hours overlap. Give each hour once."


def _closures(rows: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for row in rows:
        start, end = row["start"], row["end"]
        if row["kind"] not in Closure.Kind.values:
            yield f"Choose one of {', '.join(Closure.Kind.values)}."
        elif (
            not isinstance(start, datetime)
            or not isinstance(end, datetime)
            or end <= start
        ):
            yield "Give the day and time it begins and the later ones it ends."
        elif end - start > _LONGEST:
            yield "That is longer than two years. Check the year."
        elif not 1 <= len(row["reason"]) <= 120:
            yield "Say why, in at most 120 characters."


def _near(rows: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for row in rows:
        if not 1 <= len(row["what"]) <= 80:
            yield "Say what stands near, in at most 80 characters."
        elif not _inside(row["bearing_deg"], 0, 359.999):
            yield f"{row['what']}: give its bearing from the boat, from 0 to 359 degrees true."
        elif not _inside(row["distance_m"], 0, _FARTHEST_M):
            yield f"{row['what']}: give how far off it stands, as a number."


def _high(rows: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for row in rows:
        ends = (row["from_deg"], row["to_deg"])
        if not all(_inside(one, 0, 360) for one in ends) or ends[0] == ends[1]:
            yield "Give the two bearings an obstacle spans, from 0 to 360 degrees true."
        elif not _inside(row["elevation_deg"], 0, 90):
            yield "Give how high an obstacle stands over the horizon, from 0 to 90 degrees."


def _wet(rows: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for row in rows:
        if not 1 <= len(row["what"]) <= 80:
            yield "Say what wets the boats, as lawn sprinkler, in at most 80 characters."
        elif not row["days"] or not set(row["days"]) <= set(range(len(WEEKDAYS))):
            yield f"{row['what']}: choose its days."
        elif None in (row["from"], row["to"]) or row["from"] == row["to"]:
            yield f"{row['what']}: give the time it begins and another one at which it ends."
