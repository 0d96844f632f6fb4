"""What a forecast says hour by hour, and what it comes to at one place."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from dispatch.trade import sun
from dispatch.trade.spans import Span

HOUR = timedelta(hours=1)


@dataclass(frozen=True, kw_only=True)
class SkyHour:
    """One hour from ``at`` on; a number that is None is unknown, never fine."""

    at: datetime
    air_c: float | None = None
    dew_c: float | None = None
    rh_pct: float | None = None
    wind_ms: float | None = None
    gust_ms: float | None = None
    from_deg: float | None = None
    cloud_pct: float | None = None
    rain_mm: float | None = None
    rain_prob_pct: float | None = None
    fog: float | None = None

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise ValueError("An hour of sky needs a time with a zone.")
        object.__setattr__(self, "at", self.at.astimezone(UTC))


@dataclass(frozen=True, kw_only=True)
class Sky:
    """Hours in order, with the moment they were issued.

    ``seen_at`` is when somebody plans by it, None for at once; the hours of ``hand`` were entered by hand since.
    """

    hours: tuple[SkyHour, ...]
    issued_at: datetime
    seen_at: datetime | None = None
    hand: Span | None = None

    def __post_init__(self) -> None:
        if self.issued_at.tzinfo is None:
            raise ValueError("A sky needs to know when it was issued, with a zone.")
        times = [hour.at for hour in self.hours]
        if times != sorted(set(times)):
            raise ValueError("The hours of a sky must stand in order, each once.")

    @property
    def age_hours(self) -> float:
        """How old it is when it is seen, hours; never below 0."""
        age = (self.seen_at or self.issued_at) - self.issued_at
        return max(0.0, age / HOUR)

    def hour(self, moment: datetime) -> SkyHour | None:
        """The hour a moment falls in, or None where nothing is said about it."""
        return next(
            (hour for hour in self.hours if hour.at <= moment < hour.at + HOUR), None
        )


@dataclass(frozen=True, kw_only=True)
class Obstacle:
    """Something on the horizon, from one azimuth clockwise to another, up to an elevation (degrees)."""

    az_from_deg: float
    az_to_deg: float
    elevation_deg: float


@dataclass(frozen=True, kw_only=True)
class Site:
    """A place as the sky sees it: where it is (degrees, north and east positive), how sheltered, how cold its nights.

    Raises:
        ValueError: there is no such latitude or longitude.
    """

    lat: float
    lon: float
    zone: str
    wind_factor: float = 1.0
    day_offset_k: float = 0.0
    night_offset_k: float = 0.0
    obstacles: tuple[Obstacle, ...] = ()
    known_wettings: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        if not (-90 <= self.lat <= 90 and -180 <= self.lon <= 180):
            raise ValueError(
                f"A place lies from 90 S to 90 N and 180 W to 180 E, not at {self.lat:g}, {self.lon:g}."
            )


def local(sky: Sky, site: Site) -> Sky:
    """The sky at a site: wind by its factor, air and dew point by its offset for day or night.

    Where the offset would put the air below the dew point the dew point follows it down.
    """
    if not sky.hours:
        return sky
    elevations = sun.series(site.lat, site.lon, [hour.at for hour in sky.hours])[1]
    hours = (
        _local(
            hour,
            site.day_offset_k if elevation > 0 else site.night_offset_k,
            site.wind_factor,
        )
        for hour, elevation in zip(sky.hours, elevations, strict=True)
    )
    return replace(sky, hours=tuple(hours))


# Each visit of a week that lies there asks for the same hours.
@lru_cache(maxsize=1 << 14)
def _local(hour: SkyHour, offset_k: float, wind_factor: float) -> SkyHour:
    air = None if hour.air_c is None else hour.air_c + offset_k
    dew = hour.dew_c if hour.dew_c is None or air is None else min(hour.dew_c, air)
    return replace(
        hour,
        air_c=air,
        dew_c=dew,
        wind_ms=None if hour.wind_ms is None else hour.wind_ms * wind_factor,
        gust_ms=None if hour.gust_ms is None else hour.gust_ms * wind_factor,
    )
