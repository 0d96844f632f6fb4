"""What a place's fields are called, and a change of one in words, in the outfit's units."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from dispatch.actions import history, setting_units
from dispatch.actions.place_bounds import WEEKDAYS
from dispatch.records.models import Outfit, Place

NAMES: Mapping[str, str] = {
    "name": "Name",
    "address": "Address",
    "gate": "At the gate",
    "rules": "The yard's own rules",
    "time_zone": "Time zone",
    "latitude": "Latitude, north positive",
    "longitude": "Longitude, east positive",
    "declination_deg": "Compass declination, east positive",
    "spray_rule": "Spraying",
    "two_part_allowed": "Two-part products allowed",
    "heat_rule": "Heat is judged by",
    "afloat": "Boats lie in the water here",
    "water": "Water there",
    "power": "Power there",
    "sign_in_minutes": "Signing in takes",
    "swing_room_m": "Free width to turn a boat",
    "water_off_m": "From the boats to open water",
    "wind_factor": "Wind against the forecast",
    "day_offset_k": "By day warmer than the forecast by",
    "night_offset_k": "By night warmer than the forecast by",
    "neighbours": "Neighbours",
    "horizon": "Horizon",
    "hours": "Hours",
    "closures": "Shut, let in, tides and sprinklers",
    "wettings": "Wetted every week",
}
_NOTHING = "not known"
EVERY_DAY, WORKDAYS, WEEKEND = tuple(range(7)), tuple(range(5)), (5, 6)


def told(name: str, before: Any, after: Any) -> str:  # noqa: ANN401 - whatever the field holds
    """A change of a field, to which value and what it was."""
    return f"“{NAMES[name]}” {history.turned(said(name, before), said(name, after))}"


def said(name: str, value: Any) -> str:  # noqa: ANN401
    """A field's value in words."""
    rows: Mapping[str, Callable[[Any], str]] = {
        "neighbours": _near,
        "horizon": _high,
        "hours": _hours,
        "closures": _shut,
        "wettings": _wet,
    }
    if name in rows:
        return "; ".join(rows[name](row) for row in value) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return _chosen(name, value)
    return _NOTHING if value is None else unit(name).said(value)


def unit(name: str) -> setting_units.Unit:
    """The unit a number of a place is read and entered in."""
    if name in ("latitude", "longitude"):
        return setting_units.Unit(text="°")
    its = setting_units.unit(name, _system())
    # What is paced off in a yard: 295 ft, and 9.5 ft to the boat beside.
    paced = name.endswith("_m")
    return replace(its, places=1, whole_from=10) if paced else its


def _system() -> str:
    return Outfit.objects.values_list("units", flat=True).first() or "us"


def _chosen(name: str, value: str) -> str:
    choices = {"spray_rule": Place.SprayRule, "heat_rule": Place.HeatRule}
    return choices[name](value).label.lower() if name in choices else value or "nothing"


def _near(row: Mapping[str, Any]) -> str:
    sheeted = ", sheeted" if row.get("sheeted") else ""
    far = unit("distance_m").said(row["distance_m"])
    return f"{row['what']} {far} off at {row['bearing_deg']:g}°{sheeted}"


def _high(row: Mapping[str, Any]) -> str:
    return f"{row['elevation_deg']:g}° high from {row['from_deg']:g}° to {row['to_deg']:g}°"


def _hours(row: tuple[int, Any, Any]) -> str:
    day, start, end = row
    return f"{WEEKDAYS[day]} {start:%H:%M} to {end:%H:%M}"


def days(given: Sequence[int]) -> str:
    """Some days of the week, in words."""
    known = {EVERY_DAY: "every day", WORKDAYS: "Mon to Fri", WEEKEND: "Sat and Sun"}
    names = " and ".join(WEEKDAYS[day] for day in given)
    return known.get(tuple(given), names)


def _wet(row: Mapping[str, Any]) -> str:
    return f"{row['what']} {days(row['days'])} {row['from']} to {row['to']}"


def _shut(row: Mapping[str, Any]) -> str:
    zone = ZoneInfo(Outfit.objects.get().time_zone)
    start, end = (row[key].astimezone(zone) for key in ("start", "end"))
    return f"{row['reason']}, {start:%a %d %b %Y %H:%M} to {end:%a %d %b %Y %H:%M}"
