"""A site's sky as arrays over a grid of moments, for checks that run over a whole week at once."""

from dataclasses import dataclass
from datetime import UTC, timedelta

import numpy as np
import numpy.typing as npt

from dispatch.trade import air, shade, sun
from dispatch.trade.cure import Surface
from dispatch.trade.sky import HOUR, Sky, local
from dispatch.trade.spans import Span
from dispatch.trade.work import Work

STEP_MINUTES = 10
_NUMBERS = (
    "air_c",
    "dew_c",
    "rh_pct",
    "wind_ms",
    "gust_ms",
    "from_deg",
    "cloud_pct",
    "rain_mm",
    "rain_prob_pct",
)


@dataclass(frozen=True, kw_only=True)
class Samples:
    """Every number of the sky at each moment of the grid; NaN is unknown."""

    span: Span
    unix: sun.Floats
    sun_up: npt.NDArray[np.bool_]
    numbers: dict[str, sun.Floats]
    surface_c: sun.Floats
    lit_surface_c: sun.Floats

    def __getitem__(self, name: str) -> sun.Floats:
        return self.numbers[name]


def take(work: Work, sky: Sky, span: Span) -> Samples:
    """Sample a sky at the work's site over a span."""
    at_site = local(sky, work.site)
    unix = shade.grid(span, STEP_MINUTES)
    numbers = {name: _series(at_site, name, unix) for name in _NUMBERS}
    sun_up = sun.angles(work.site.lat, work.site.lon, unix)[1] > 0
    shaded, lit = (_surface(work, numbers, sun_up, lit=lit) for lit in (False, True))
    return Samples(
        span=span,
        unix=unix,
        sun_up=sun_up,
        numbers=numbers,
        surface_c=shaded,
        lit_surface_c=lit,
    )


def surface(work: Work, sky: Sky) -> Surface | None:
    """The shaded hull's temperature hour by hour, up to the first hour that is not known; None without any."""
    at_site = local(sky, work.site)
    if not at_site.hours:
        return None
    up = (
        sun.series(work.site.lat, work.site.lon, [hour.at for hour in at_site.hours])[1]
        > 0
    )
    known: list[float] = []
    for index, hour in enumerate(at_site.hours):
        if hour.air_c is None or hour.at != at_site.hours[0].at + index * HOUR:
            break
        known.append(
            air.surface_c(
                hour.air_c,
                sun_up=bool(up[index]),
                lit=False,
                dark=work.dark,
                cloud_pct=hour.cloud_pct,
                model=air.SurfaceModel(),
            )
        )
    return Surface(start=at_site.hours[0].at.astimezone(UTC), hourly_c=tuple(known))


def _series(sky: Sky, name: str, unix: sun.Floats) -> sun.Floats:
    by_hour = {
        int(hour.at.timestamp()) // 3600: getattr(hour, name) for hour in sky.hours
    }
    values = (by_hour.get(int(second) // 3600) for second in unix)
    return np.array(
        [np.nan if value is None else float(value) for value in values],
        dtype=np.float64,
    )


def _surface(
    work: Work,
    numbers: dict[str, sun.Floats],
    sun_up: npt.NDArray[np.bool_],
    *,
    lit: bool,
) -> sun.Floats:
    model = air.SurfaceModel()
    cloud = np.nan_to_num(numbers["cloud_pct"], nan=0.0)
    night = np.where(cloud < model.clear_below_cloud_pct, model.clear_night_k, 0.0)
    sunny = model.dark_sun_k if work.dark else model.white_sun_k
    day = np.where(cloud < work.limits.shade_cloud_pct, sunny, 0.0) if lit else 0.0
    return np.asarray(numbers["air_c"] + np.where(sun_up, day, night), dtype=np.float64)


def spread_k(samples: Samples) -> sun.Floats:
    """Surface minus dew point: how far the shaded hull is from growing wet."""
    return samples.surface_c - samples["dew_c"]


def shifted_back(mask: npt.NDArray[np.bool_], minutes: float) -> npt.NDArray[np.bool_]:
    """A mask that also holds for so long before each moment it held."""
    return _smeared(mask[::-1], minutes)[::-1]


def shifted_on(mask: npt.NDArray[np.bool_], minutes: float) -> npt.NDArray[np.bool_]:
    """A mask that also holds for so long after each moment it held."""
    return _smeared(mask, minutes)


def _smeared(mask: npt.NDArray[np.bool_], minutes: float) -> npt.NDArray[np.bool_]:
    steps = int(-(-minutes // STEP_MINUTES))
    out = mask.copy()
    for step in range(1, steps + 1):
        out[step:] |= mask[:-step] if step < len(mask) else mask[:0]
    return out


def step_length() -> timedelta:
    """The grid's step."""
    return timedelta(minutes=STEP_MINUTES)
