"""A site's sky as arrays over a grid of moments, for checks that run over a whole week at once."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from operator import attrgetter

import numpy as np
import numpy.typing as npt

from dispatch.trade import air, cure, readings, shade, sun
from dispatch.trade.cure import Surface
from dispatch.trade.sky import HOUR, Sky, local
from dispatch.trade.spans import Span
from dispatch.trade.work import Work

STEP_MINUTES = 5
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
_VALUES = attrgetter(*_NUMBERS)
_READ = ("air_c", "rh_pct", "dew_c")


@dataclass(frozen=True, kw_only=True)
class Samples:
    """Every number of the sky at each moment of the grid; NaN is unknown.

    ``read_unix`` is when the hull was read, where a reading still counts; NaN where none does.
    """

    span: Span
    unix: sun.Floats
    sun_up: npt.NDArray[np.bool_]
    numbers: dict[str, sun.Floats]
    surface_c: sun.Floats
    lit_surface_c: sun.Floats
    read_unix: sun.Floats

    def __getitem__(self, name: str) -> sun.Floats:
        return self.numbers[name]


def take(work: Work, sky: Sky, span: Span) -> Samples:
    """Sample a sky at the work's site over a span; what was read there goes before it."""
    at_site = local(_around(sky, span, work), work.site)
    unix = shade.grid(span, STEP_MINUTES)
    numbers, then = (_numbers(at_site, moments) for moments in (unix, _read_unix(work)))
    sun_up = _sun_up(work, unix)
    shaded, lit = (_surface(work, numbers, sun_up, lit=lit) for lit in (False, True))
    shaded_then = _surface(work, then, _sun_up(work, _read_unix(work)), lit=False)
    read = readings.beats(
        shaded,
        unix,
        list(_hulls_read(work, then["air_c"], shaded_then)),
        shaded_then,
        work.limits.reading_hours,
    )
    return Samples(
        span=span,
        unix=unix,
        sun_up=sun_up,
        numbers=numbers
        | {
            name: _beaten(work, unix, name, numbers[name], then[name]) for name in _READ
        },
        surface_c=read,
        lit_surface_c=np.fmax(lit, read),
        read_unix=_when_read(work, unix),
    )


def _sun_up(work: Work, unix: sun.Floats) -> npt.NDArray[np.bool_]:
    return sun.angles(work.site.lat, work.site.lon, unix)[1] > 0


def _read_unix(work: Work) -> sun.Floats:
    return np.array([one.at.timestamp() for one in work.readings], dtype=np.float64)


def _hulls_read(
    work: Work, air_then: sun.Floats, shaded_then: sun.Floats
) -> Iterator[tuple[float, float | None]]:
    """Each reading of the hull; where only the air was read, the hull lies as far from it as by the model."""
    model_k = (shaded_then - air_then).tolist()
    for one, off_k in zip(work.readings, model_k, strict=True):
        by_air = None if one.air_c is None else one.air_c + off_k
        yield one.at.timestamp(), by_air if one.surface_c is None else one.surface_c


def _beaten(
    work: Work, unix: sun.Floats, name: str, said: sun.Floats, then: sun.Floats
) -> sun.Floats:
    read = [(one.at.timestamp(), getattr(one, name)) for one in work.readings]
    return readings.beats(said, unix, read, then, work.limits.reading_hours)


def _when_read(work: Work, unix: sun.Floats) -> sun.Floats:
    times = np.array(
        [r.at.timestamp() for r in work.readings if r.surface_c is not None],
        dtype=np.float64,
    )
    if not len(times):
        return np.full(len(unix), np.nan)
    last = readings.in_force(times, unix, work.limits.reading_hours)
    return np.where(last >= 0, times[np.maximum(last, 0)], np.nan)


def surface(work: Work, sky: Sky) -> Surface | None:
    """The shaded hull's temperature hour by hour; an unknown hour counts as too cold for any cure. None without a sky."""
    at_site = local(sky, work.site)
    if not at_site.hours:
        return None
    up = (
        sun.series(work.site.lat, work.site.lon, [hour.at for hour in at_site.hours])[1]
        > 0
    )
    first, last = at_site.hours[0].at, at_site.hours[-1].at
    hourly = [-math.inf] * ((last - first) // HOUR + 1)
    for hour, sun_up in zip(at_site.hours, up, strict=True):
        if hour.air_c is not None:
            hourly[(hour.at - first) // HOUR] = air.surface_c(
                hour.air_c,
                sun_up=bool(sun_up),
                lit=False,
                dark=work.dark,
                cloud_pct=hour.cloud_pct,
                model=work.surface_model,
            )
    return Surface(start=first, hourly_c=_read_hours(work, first, np.array(hourly)))


def _read_hours(work: Work, first: datetime, hourly: sun.Floats) -> tuple[float, ...]:
    """The hourly temperatures as what was read on the hull moves them, each hour by its middle."""
    start, step = first.timestamp(), HOUR.total_seconds()
    middles = start + step * (np.arange(len(hourly), dtype=np.float64) + 0.5)
    read = [
        (one.at.timestamp(), one.surface_c)
        for one in work.readings
        if 0 <= one.at.timestamp() - start < step * len(hourly)
    ]
    then = hourly[[int((at - start) // step) for at, _ in read]]
    moved = readings.beats(hourly, middles, read, then, work.limits.reading_hours)
    return tuple(moved.tolist())


def _around(sky: Sky, span: Span, work: Work) -> Sky:
    """A sky's hours that touch a span, and those something was read in: a span is short and a sky long."""
    read = [one.at for one in work.readings]
    since = span.start - HOUR
    hours = (
        hour
        for hour in sky.hours
        if since < hour.at <= span.end
        or any(hour.at <= at < hour.at + HOUR for at in read)
    )
    return replace(sky, hours=tuple(hours))


def _numbers(sky: Sky, unix: sun.Floats) -> dict[str, sun.Floats]:
    """Every number of a sky at each moment: that of the hour it falls in; NaN where nothing is said."""
    if not sky.hours or not len(unix):
        return {name: np.full(len(unix), np.nan) for name in _NUMBERS}
    starts = np.array([hour.at.timestamp() for hour in sky.hours], dtype=np.float64)
    hour_of = np.searchsorted(starts, unix, side="right") - 1
    within = (hour_of >= 0) & (unix < starts[hour_of] + HOUR.total_seconds())
    # None becomes NaN.
    said = np.array([_VALUES(hour) for hour in sky.hours], dtype=np.float64)
    at = np.where(within[:, None], said[hour_of], np.nan)
    return {name: at[:, k] for k, name in enumerate(_NUMBERS)}


def _surface(
    work: Work,
    numbers: dict[str, sun.Floats],
    sun_up: npt.NDArray[np.bool_],
    *,
    lit: bool,
) -> sun.Floats:
    model = work.surface_model
    cloud = np.nan_to_num(numbers["cloud_pct"], nan=0.0)
    night = np.where(cloud < model.clear_below_cloud_pct, model.clear_night_k, 0.0)
    sunny = model.dark_sun_k if work.dark else model.white_sun_k
    day = np.where(cloud < work.limits.shade_cloud_pct, sunny, 0.0) if lit else 0.0
    return np.asarray(numbers["air_c"] + np.where(sun_up, day, night), dtype=np.float64)


def spread_k(samples: Samples) -> sun.Floats:
    """Surface minus dew point: how far the shaded hull is from growing wet."""
    return samples.surface_c - samples["dew_c"]


def when_read(samples: Samples, work: Work, index: int) -> str:
    """When the hull was read, in brackets, where a reading counts at a moment of the grid; else nothing."""
    unix = float(samples.read_unix[index])
    if np.isnan(unix):
        return ""
    return f" (read {datetime.fromtimestamp(unix, work.zone):%H:%M})"


def worst_ahead(values: sun.Floats, minutes: sun.Floats) -> sun.Floats:
    """At each moment the highest value from it until its own minutes after; NaN only where all of them are unknown."""
    out, reach = values.copy(), _reach(minutes)
    for step in range(1, min(int(reach.max(initial=0)), len(values) - 1) + 1):
        later = np.where(reach[:-step] >= step, values[step:], np.nan)
        out[:-step] = np.fmax(out[:-step], later)
    return out


def soon(mask: npt.NDArray[np.bool_], minutes: sun.Floats) -> npt.NDArray[np.bool_]:
    """Whether a mask holds at each moment or within its own minutes after it."""
    held = np.concatenate(([0], np.cumsum(mask)))
    first = np.arange(len(mask))
    last = np.minimum(first + _reach(minutes), len(mask) - 1)
    return np.asarray(held[last + 1] > held[first], dtype=np.bool_)


def _reach(minutes: sun.Floats) -> npt.NDArray[np.int64]:
    """Steps of the grid that cover each of some minutes."""
    return np.ceil(np.asarray(minutes) / STEP_MINUTES - 1e-9).astype(np.int64)


def tail_minutes(samples: Samples, work: Work) -> sun.Floats:
    """How long film laid till each moment levels: by the sheet and the hull's warmth then, the work's own at most."""
    most = np.full(len(samples.unix), float(work.tail_minutes))
    if work.sheet is None:
        return most
    levels = cure.level_series(work.sheet.flash_ref_minutes, samples.surface_c)
    return np.asarray(np.fmin(most, levels), dtype=np.float64)


def wet(samples: Samples, work: Work) -> npt.NDArray[np.bool_]:
    """Moments that wet a hull in the open: rain, a likelihood of it, or a known wetting of the place."""
    with np.errstate(invalid="ignore"):
        rainy = (samples["rain_mm"] >= work.limits.rain_mm - 1e-9) | (
            samples["rain_prob_pct"] >= work.limits.rain_prob_pct
        )
    for span in work.site.known_wettings:
        from_, to = span.start.timestamp(), span.end.timestamp()
        rainy |= (samples.unix > from_ - STEP_MINUTES * 60) & (samples.unix < to)
    return np.asarray(rainy, dtype=np.bool_)


def shifted_on(mask: npt.NDArray[np.bool_], minutes: float) -> npt.NDArray[np.bool_]:
    """A mask that also holds for so long after each moment it held."""
    out = mask.copy()
    for step in range(1, min(steps(minutes), len(mask) - 1) + 1):
        out[step:] |= mask[:-step]
    return out


def steps(minutes: float) -> int:
    """Steps of the grid that cover so many minutes."""
    return int(-(-minutes // STEP_MINUTES))
