"""Columns of numbers as hours of sky."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from dispatch.hooks.values import Complaint
from dispatch.trade.sky import HOUR, SkyHour
from dispatch.trade.units import f_to_c, inch_to_mm, mph_to_ms
from plugins.weather_columnar import times

_SAME: Callable[[float], float] = float
_TEMPERATURES = {"°C": _SAME, "°F": f_to_c, "K": lambda value: value - 273.15}
# 1 knot = 1852 m an hour (the international knot).
_SPEEDS = {
    "m/s": _SAME,
    "km/h": lambda value: value / 3.6,
    "kn": lambda value: value * 1852 / 3600,
    "mph": mph_to_ms,
    "mp/h": mph_to_ms,
}
_SHARES = {"%": _SAME}
_DEPTHS = {"mm": _SAME, "cm": lambda value: value * 10, "inch": inch_to_mm}
# WMO present weather, table 4677: 45 is fog, 48 fog that leaves rime.
_FOGS = {45.0, 48.0}
_CODES = {"wmo code": lambda value: float(value in _FOGS)}


@dataclass(frozen=True, kw_only=True)
class Column:
    """Which field of an hour a column is, what its units come to in SI, and whether it is of a whole hour."""

    field: str
    units: Mapping[str, Callable[[float], float]]
    of_an_hour: bool = False


COLUMNS: Mapping[str, Column] = {
    "temperature_2m": Column(field="air_c", units=_TEMPERATURES),
    "dew_point_2m": Column(field="dew_c", units=_TEMPERATURES),
    "relative_humidity_2m": Column(field="rh_pct", units=_SHARES),
    "wind_speed_10m": Column(field="wind_ms", units=_SPEEDS),
    "wind_gusts_10m": Column(field="gust_ms", units=_SPEEDS, of_an_hour=True),
    "wind_direction_10m": Column(field="from_deg", units={"°": _SAME}),
    "cloud_cover": Column(field="cloud_pct", units=_SHARES),
    "precipitation_probability": Column(
        field="rain_prob_pct", units=_SHARES, of_an_hour=True
    ),
    "precipitation": Column(field="rain_mm", units=_DEPTHS, of_an_hour=True),
    "weather_code": Column(field="fog", units=_CODES),
}
_NOTHING = "Nothing was taken in."


def read(payload: Mapping[str, object], *, looks_back: bool) -> tuple[SkyHour, ...]:
    """The hours of which anything is known, in order.

    With ``looks_back`` what is of a whole hour is of the one before its time.

    Raises:
        Complaint: the times, a unit or a number cannot be read, or a column is not as long as the times.
    """
    hourly, units = _block(payload, "hourly"), _block(payload, "hourly_units")
    moments = times.read(payload, str(units.get("time", "")), hourly.get("time"))
    hours: dict[datetime, dict[str, float]] = {}
    for name, column in COLUMNS.items():
        shift = HOUR if looks_back and column.of_an_hour else HOUR * 0
        for moment, value in zip(
            moments, _values(name, hourly, units, len(moments)), strict=False
        ):
            if value is not None:
                hours.setdefault(moment - shift, {})[column.field] = value
    return tuple(_by_hour(hours))


def _by_hour(hours: Mapping[datetime, Mapping[str, float]]) -> Iterator[SkyHour]:
    for at in sorted(hours):
        yield SkyHour(at=at, **hours[at])


def _block(payload: Mapping[str, object], name: str) -> Mapping[str, object]:
    block = payload.get(name)
    if not isinstance(block, Mapping):
        raise Complaint(f"the answer has no block {name}. {_NOTHING}")
    return block


def _values(
    name: str,
    hourly: Mapping[str, object],
    units: Mapping[str, object],
    length: int,
) -> Sequence[float | None]:
    """A column in SI; nothing where it is missing or its unit is not told."""
    found, unit = hourly.get(name), units.get(name)
    if found is None or unit is None:
        return ()
    if not isinstance(found, list) or len(found) != length:
        raise Complaint(
            f"{name} is no list as long as time, which has {length}. {_NOTHING}"
        )
    known = COLUMNS[name].units
    if str(unit) not in known:
        raise Complaint(
            f"{name} is in {str(unit)[:40]!r}; {', '.join(known)} can be read. {_NOTHING}"
        )
    return [_number(name, one, known[str(unit)]) for one in found]


def _number(
    name: str, value: object, convert: Callable[[float], float]
) -> float | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Complaint(
            f"{name} has {str(value)[:40]!r}; numbers and nulls are wanted. {_NOTHING}"
        )
    return convert(float(value))
