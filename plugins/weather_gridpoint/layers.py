"""Layers of intervals as the hours they cover."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from dispatch.hooks.values import Complaint
from dispatch.trade.sky import HOUR
from dispatch.trade.spans import Span
from plugins.weather_gridpoint import intervals, units


@dataclass(frozen=True, kw_only=True)
class Layer:
    """What a layer is called, which field of an hour it is, and of what kind its numbers are.

    An ``amount`` is what falls within the whole interval; anything else holds all through it.
    """

    name: str
    field: str
    kind: str
    amount: bool = False


LAYERS = (
    Layer(name="temperature", field="air_c", kind="temperature"),
    Layer(name="dewpoint", field="dew_c", kind="temperature"),
    Layer(name="relativeHumidity", field="rh_pct", kind="share"),
    Layer(name="windSpeed", field="wind_ms", kind="speed"),
    Layer(name="windGust", field="gust_ms", kind="speed"),
    Layer(name="windDirection", field="from_deg", kind="bearing"),
    Layer(name="skyCover", field="cloud_pct", kind="share"),
    Layer(name="probabilityOfPrecipitation", field="rain_prob_pct", kind="share"),
    Layer(name="quantitativePrecipitation", field="rain_mm", kind="depth", amount=True),
)
FOG_LAYER = "weather"
Part = tuple[Span, float]


def at_hours(
    properties: Mapping[str, object], starts: Sequence[datetime]
) -> Iterator[Mapping[str, float | None]]:
    """The fields of each hour from its start on, None where nothing is said of all of it.

    Raises:
        Complaint: an interval, a unit or a number cannot be read; it names the layer and what stands there.
    """
    parts = {one.field: tuple(_parts(one, properties)) for one in LAYERS}
    amounts = {one.field for one in LAYERS if one.amount}
    parts["fog"] = tuple(_in_order(FOG_LAYER, _values(FOG_LAYER, properties, _fog)))
    for start in starts:
        hour = Span(start, start + HOUR)
        yield {
            field: _amount(found, hour) if field in amounts else _steady(found, hour)
            for field, found in parts.items()
        }


def _parts(layer: Layer, properties: Mapping[str, object]) -> tuple[Part, ...]:
    """A layer's known intervals in SI; none where it is missing or does not say its unit."""
    said = properties.get(layer.name)
    unit = said.get("uom") if isinstance(said, Mapping) else None
    if unit is None:
        return ()
    convert = units.to_si(layer.name, layer.kind, str(unit))
    return _in_order(
        layer.name,
        _values(layer.name, properties, lambda where, n: convert(_number(where, n))),
    )


def _values(
    name: str,
    properties: Mapping[str, object],
    read: Callable[[str, object], float],
) -> Iterator[Part]:
    said = properties.get(name)
    if said is None:
        return
    values = said.get("values") if isinstance(said, Mapping) else None
    if not isinstance(values, list):
        raise Complaint(f"{name} has no list of values. Nothing was taken in.")
    for number, one in enumerate(values, 1):
        where = f"{name}, value {number},"
        if not isinstance(one, Mapping):
            raise Complaint(f"{where} is no interval. Nothing was taken in.")
        span = intervals.read(where, one.get("validTime"))
        if one.get("value") is not None:
            yield span, read(where, one["value"])


def _number(where: str, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Complaint(
            f"{where} is {str(value)[:40]!r}; a number or null is wanted. Nothing was taken in."
        )
    return float(value)


def _fog(where: str, value: object) -> float:
    """1 where fog is among the weather listed for an interval, 0 where it is not."""
    if not isinstance(value, list) or not all(isinstance(v, Mapping) for v in value):
        raise Complaint(f"{where} is no list of weather or null. Nothing was taken in.")
    return float(any("fog" in str(one.get("weather") or "") for one in value))


def _in_order(name: str, found: Iterator[Part]) -> tuple[Part, ...]:
    """Intervals by their start; two that say different things of one time say nothing."""
    parts = tuple(sorted(found, key=lambda part: (part[0].start, part[0].end)))
    for (before, _), (after, _) in pairwise(parts):
        if after.start < before.end:
            raise Complaint(
                f"{name} speaks twice of {after.start:%d %b %H:%M} UTC. Nothing was taken in."
            )
    return parts


def _steady(parts: Sequence[Part], hour: Span) -> float | None:
    """What holds all through an hour; unknown where an interval ends inside it."""
    return next(
        (v for span, v in parts if span.start <= hour.start and hour.end <= span.end),
        None,
    )


def _amount(parts: Sequence[Part], hour: Span) -> float | None:
    """What falls in an hour, each interval's amount spread evenly over it; unknown where a part is missing."""
    shares = [
        (min(span.end, hour.end) - max(span.start, hour.start), span, amount)
        for span, amount in parts
        if span.start < hour.end and hour.start < span.end
    ]
    if sum((within for within, _, _ in shares), start=HOUR * 0) < HOUR:
        return None
    return sum(amount * (within / span.length) for within, span, amount in shares)
