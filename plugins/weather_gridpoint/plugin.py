"""The forecast hook over a service of gridpoints."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from urllib.parse import urlsplit

from dispatch.hooks.fetch import NotThere, Page, Service, Stamp, checked
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, ForecastAnswer, ForecastAsk
from dispatch.trade.sky import HOUR, SkyHour
from dispatch.trade.spans import Span
from plugins.weather_gridpoint import layers

_LINK = "forecastGridData"


@dataclass(frozen=True, kw_only=True)
class Memory:
    """What is known of a place from the last time: where its grid lies, its stamp, when it was issued."""

    point: str
    grid: str = ""
    etag: str = ""
    modified: str = ""
    issued: str = ""

    @classmethod
    def of(cls, kept: str, point: str) -> "Memory":
        """Read what was kept; nothing where it is of another place or service, or cannot be read."""
        try:
            memory = cls(**json.loads(kept))
            datetime.fromisoformat(memory.issued)
        except (ValueError, TypeError):
            return cls(point=point)
        return memory if memory.point == point else cls(point=point)


class WeatherGridpoint:
    """Forecasts of places from one service."""

    def __init__(self, options: Mapping[str, object]) -> None:
        self._options = options
        self._address = str(options["address"]).rstrip("/")

    @hookimpl
    def forecast(self, ask: ForecastAsk) -> ForecastAnswer:
        """Read the grid that the service names for the place, if it has changed since."""
        point = (
            f"{self._address}/points/{_degrees(ask.latitude)},{_degrees(ask.longitude)}"
        )
        known = Memory.of(ask.kept, point)
        grid, page = self._read(known)
        if not page.changed:
            issued_at = datetime.fromisoformat(known.issued)
            return ForecastAnswer(
                issued_at=issued_at, hours=(), keep=ask.kept, unchanged=True
            )
        properties = _properties(page, grid)
        issued_at = _issued(properties)
        memory = Memory(
            point=point, grid=grid, issued=issued_at.isoformat(), **asdict(page.stamp)
        )
        return ForecastAnswer(
            issued_at=issued_at,
            hours=_hours(properties, ask.span),
            keep=json.dumps(asdict(memory)),
        )

    def _read(self, known: Memory) -> tuple[str, Page]:
        """The grid's address and what it answers; it is looked up again where it has moved."""
        service = Service(self._options)
        if known.grid:
            try:
                stamp = Stamp(etag=known.etag, modified=known.modified)
                return known.grid, service.get(known.grid, stamp)
            except NotThere:
                pass
        grid = self._link(_properties(service.get(known.point), known.point))
        return grid, service.get(grid)

    def _link(self, properties: Mapping[str, object]) -> str:
        link = properties.get(_LINK)
        if not isinstance(link, str):
            raise Complaint(
                f"{self._address} names no {_LINK} for the place; it may not cover it."
            )
        checked(link)
        if urlsplit(link)[:2] != urlsplit(self._address)[:2]:
            raise Complaint(
                f"{self._address} points to another service ({link[:80]}), which is not followed."
            )
        return link


def make(options: Mapping[str, object]) -> WeatherGridpoint:
    """The plugin's object with its options."""
    return WeatherGridpoint(options)


def _degrees(value: float) -> str:
    """At most four decimals, as the service wants it, and no zeros behind."""
    return f"{value:.4f}".rstrip("0").rstrip(".")


def _properties(page: Page, where: str) -> Mapping[str, object]:
    found = page.data.get("properties") if isinstance(page.data, Mapping) else None
    if not isinstance(found, Mapping):
        raise Complaint(f"{where} answered JSON without properties.")
    return found


def _issued(properties: Mapping[str, object]) -> datetime:
    text = properties.get("updateTime")
    try:
        at = datetime.fromisoformat(str(text))
    except ValueError:
        at = None
    if at is None or at.tzinfo is None:
        raise Complaint(
            f"updateTime is {str(text)[:60]!r}; a time with its offset is wanted. Nothing was taken in."
        )
    return at.astimezone(UTC)


def _hours(properties: Mapping[str, object], span: Span) -> tuple[SkyHour, ...]:
    """The hours of a span of which anything is known."""
    first = span.start.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    starts = [first + HOUR * n for n in range(int((span.end - first) / HOUR) + 1)]
    starts = [start for start in starts if start < span.end]
    hours = tuple(
        SkyHour(at=start, **numbers)
        for start, numbers in zip(
            starts, layers.at_hours(properties, starts), strict=True
        )
        if any(number is not None for number in numbers.values())
    )
    if not hours:
        raise Complaint(
            f"the service has no hour from {span.start:%d %b %Y %H:%M} to {span.end:%d %b %Y %H:%M}."
        )
    return hours
