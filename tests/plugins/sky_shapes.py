"""The demo week in the shapes that weather services answer in, and a server of them."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC
from email.utils import format_datetime
from typing import Any

from dispatch.trade.sky import Sky, SkyHour
from tests.hooks.loopback import Loopback, running, told

POINT, GRID, COLUMNS = "/points/44.1,-69.1", "/grid", "/forecast"
# layer -> unit, field of SkyHour; all in SI, so that a number comes back as it went
_LAYERS = {
    "temperature": ("wmoUnit:degC", "air_c"),
    "dewpoint": ("wmoUnit:degC", "dew_c"),
    "relativeHumidity": ("wmoUnit:percent", "rh_pct"),
    "windSpeed": ("wmoUnit:m_s-1", "wind_ms"),
    "windGust": ("wmoUnit:m_s-1", "gust_ms"),
    "windDirection": ("wmoUnit:degree_(angle)", "from_deg"),
    "skyCover": ("wmoUnit:percent", "cloud_pct"),
    "probabilityOfPrecipitation": ("wmoUnit:percent", "rain_prob_pct"),
    "quantitativePrecipitation": ("wmoUnit:mm", "rain_mm"),
}

_COLUMNS = {
    "temperature_2m": ("°C", "air_c"),
    "dew_point_2m": ("°C", "dew_c"),
    "relative_humidity_2m": ("%", "rh_pct"),
    "wind_speed_10m": ("m/s", "wind_ms"),
    "wind_gusts_10m": ("m/s", "gust_ms"),
    "wind_direction_10m": ("°", "from_deg"),
    "cloud_cover": ("%", "cloud_pct"),
    "precipitation_probability": ("%", "rain_prob_pct"),
    "precipitation": ("mm", "rain_mm"),
}
_LOOKS_BACK = ("wind_gusts_10m", "precipitation_probability", "precipitation")


def as_layers(sky: Sky) -> dict[str, Any]:
    """Layers of intervals of an hour each."""
    layers: dict[str, Any] = {
        name: {"uom": unit, "values": _values(sky.hours, field)}
        for name, (unit, field) in _LAYERS.items()
    }
    fog = [
        one | {"value": [{"weather": "fog" if one["value"] else None}]}
        for one in _values(sky.hours, "fog")
    ]
    layers["weather"] = {"values": fog}
    return {"properties": {"updateTime": sky.issued_at.isoformat()} | layers}


def as_columns(sky: Sky) -> dict[str, Any]:
    """Columns of hours, in UTC and seconds; what looks back stands an hour later."""
    columns: dict[str, Any] = {
        name: [getattr(hour, field) for hour in sky.hours]
        for name, (_, field) in _COLUMNS.items()
    }
    for name in _LOOKS_BACK:
        columns[name] = [None, *columns[name][:-1]]
    columns["weather_code"] = [45 if hour.fog else 3 for hour in sky.hours]
    columns["time"] = [hour.at.timestamp() for hour in sky.hours]
    units = {name: unit for name, (unit, _) in _COLUMNS.items()}
    units |= {"time": "unixtime", "weather_code": "wmo code"}
    return {"hourly_units": units, "hourly": columns}


def _values(hours: Sequence[SkyHour], field: str) -> list[dict[str, Any]]:
    return [
        {"validTime": f"{hour.at.isoformat()}/PT1H", "value": getattr(hour, field)}
        for hour in hours
    ]


def serve(server: Loopback, sky: Sky) -> None:
    """Have a server answer a sky in each shape."""
    link = {"forecastGridData": server.address + GRID}
    server.answers(POINT, told({"properties": link}))
    issued = format_datetime(sky.issued_at.astimezone(UTC), usegmt=True)
    server.answers(COLUMNS, told(as_columns(sky), Last_Modified=issued))
    server.answers(GRID, told(as_layers(sky)))


@contextmanager
def serving(sky: Sky) -> Iterator[Loopback]:
    """A server of a sky, for as long as the context lasts."""
    with running() as server:
        serve(server, sky)
        yield server
