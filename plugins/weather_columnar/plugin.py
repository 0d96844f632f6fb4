"""The forecast hook over a service of hourly columns."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from urllib.parse import urlencode

from dispatch.hooks import fetch
from dispatch.hooks.fetch import Page, Service, Stamp
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, ForecastAnswer, ForecastAsk
from dispatch.trade.sky import HOUR, SkyHour
from plugins.weather_columnar import columns


@dataclass(frozen=True, kw_only=True)
class Memory:
    """What is known from the last time: what was asked, its stamp, when it was issued."""

    url: str
    etag: str = ""
    modified: str = ""
    issued: str = ""

    @classmethod
    def of(cls, kept: str, url: str) -> "Memory":
        """Read what was kept; nothing where something else was asked, or it cannot be read."""
        try:
            memory = cls(**json.loads(kept))
            datetime.fromisoformat(memory.issued)
        except (ValueError, TypeError):
            return cls(url=url)
        return memory if memory.url == url else cls(url=url)


class WeatherColumnar:
    """Forecasts of places from one service."""

    def __init__(self, options: Mapping[str, object]) -> None:
        self._options = options

    @hookimpl
    def forecast(self, ask: ForecastAsk) -> ForecastAnswer:
        """Read the place's columns, if they have changed since."""
        known = Memory.of(ask.kept, self._url(ask))
        stamp = Stamp(etag=known.etag, modified=known.modified)
        page = Service(self._options).get(known.url, stamp)
        if not page.changed:
            issued_at = datetime.fromisoformat(known.issued)
            return ForecastAnswer(
                issued_at=issued_at, hours=(), keep=ask.kept, unchanged=True
            )
        issued_at = _issued(page)
        memory = Memory(
            url=known.url, issued=issued_at.isoformat(), **asdict(page.stamp)
        )
        return ForecastAnswer(
            issued_at=issued_at,
            hours=self._hours(page, ask),
            keep=json.dumps(asdict(memory)),
        )

    def _url(self, ask: ForecastAsk) -> str:
        """What is asked: in UTC and seconds, so that no clock is in doubt."""
        address = str(self._options["address"])
        wanted = {
            "latitude": f"{ask.latitude:.4f}",
            "longitude": f"{ask.longitude:.4f}",
            "hourly": ",".join(columns.COLUMNS),
            "timezone": "UTC",
            "timeformat": "unixtime",
        }
        return f"{address}{'&' if '?' in address else '?'}{urlencode(wanted, safe=',')}"

    def _hours(self, page: Page, ask: ForecastAsk) -> tuple[SkyHour, ...]:
        if not isinstance(page.data, Mapping):
            raise Complaint("the answer is JSON, but no object. Nothing was taken in.")
        looks_back = bool(self._options["looks_back"])
        hours = tuple(
            hour
            for hour in columns.read(page.data, looks_back=looks_back)
            if ask.span.start < hour.at + HOUR and hour.at < ask.span.end
        )
        if not hours:
            raise Complaint(
                f"the service has no hour from {ask.span.start:%d %b %Y %H:%M} to {ask.span.end:%d %b %Y %H:%M}."
            )
        return hours


def make(options: Mapping[str, object]) -> WeatherColumnar:
    """The plugin's object with its options."""
    return WeatherColumnar(options)


def _issued(page: Page) -> datetime:
    """When the answer was last changed, else when it was given: the shape itself does not say."""
    at = fetch.moment(page.stamp.modified) or fetch.moment(page.date)
    if at is None:
        raise Complaint(
            "the service says neither when its answer changed (Last-Modified) nor what time it is (Date). "
            "Nothing was taken in."
        )
    return at.astimezone(UTC)
