"""Whether film laid so that it ends at a moment would be safe before rain and dew come."""

from collections.abc import Iterator
from datetime import UTC, datetime

import numpy as np

from dispatch.trade import cure, rulebook, samples
from dispatch.trade.condition import Bools, Condition, Say, always
from dispatch.trade.cure import Surface
from dispatch.trade.samples import Samples
from dispatch.trade.sky import HOUR, Sky
from dispatch.trade.spans import Span
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words
from dispatch.trade.work import Work

_TWO_DAYS_SECONDS = 48 * 3600


def check(work: Work, sky: Sky, grid: Samples, words: Words) -> Iterator[Condition]:
    """Conditions on the end of a visit that lays film; none under a roof, which keeps rain and dew off."""
    sheet, surface = work.sheet, samples.surface(work, sky)
    if (
        sheet is None
        or sheet.rain_safe_ref_h is None
        or work.cover == "roof"
        or surface is None
    ):
        return
    safe = _safe_at(sheet.rain_safe_ref_h, sheet.cure_min_c, grid, surface)
    yield _never(work, grid, safe)
    yield from _rain(work, sky, grid, safe)
    yield _dew(work, grid, safe, words)
    yield _unknown(work, sky, grid, safe)


def reach(sky: Sky, horizon: Span) -> Span:
    """The span whose sky decides on film laid in a horizon: to the end of what is forecast."""
    last = sky.hours[-1].at + HOUR if sky.hours else horizon.end
    return Span(horizon.start, max(horizon.end, last))


def _safe_at(ref_h: float, min_c: float, grid: Samples, surface: Surface) -> Floats:
    """Unix seconds at which film that ends at each moment is rain-safe; NaN where not by this forecast."""
    last = surface.start.timestamp() + len(surface.hourly_c) * 3600
    known = (grid.unix >= surface.start.timestamp()) & (grid.unix <= last)
    ends = [datetime.fromtimestamp(second, UTC) for second in grid.unix[known]]
    found = cure.set_series(surface, ends, ref_h, min_c)
    out = np.full(len(grid.unix), np.nan)
    out[known] = [np.nan if moment is None else moment.timestamp() for moment in found]
    return out


def _never(work: Work, grid: Samples, safe: Floats) -> Condition:
    """Film that two known days do not set: it is too cold, which is not the same as not knowing."""
    return Condition(
        code="will-not-set",
        fails=np.isnan(safe) & ~_dark_soon(grid),
        excess=np.zeros(len(safe)),
        say=always(
            f"too cold to set: film laid then would not be rain-safe by {_clock(work, grid.span.end.timestamp())}, "
            "where this forecast ends"
        ),
        strength=rulebook.strength("will-not-set"),
    )


def _dark_soon(grid: Samples) -> Bools:
    """Whether the air is unknown, or the forecast ends, within two days of each moment."""
    known = np.minimum(
        _next_after(grid, np.isnan(grid["air_c"])), grid.span.end.timestamp()
    )
    return np.asarray(known < grid.unix + _TWO_DAYS_SECONDS, dtype=np.bool_)


def _rain(work: Work, sky: Sky, grid: Samples, safe: Floats) -> Iterator[Condition]:
    """Too little time before rain: below the least margin a wall, below the full one the owner's to overrule."""
    first, margin = _next_after(grid, samples.wet(grid, work)), _margin(work, sky, grid)
    least = np.full(len(safe), work.limits.rain_margin_least_minutes)
    left = (first - safe) / 60
    for below_least, needs in ((True, np.minimum(least, margin)), (False, margin)):
        with np.errstate(invalid="ignore"):
            fails = left < needs
        yield Condition(
            code="rain-soon",
            fails=fails,
            excess=np.nan_to_num(needs - left),
            say=_soon(work, safe, first, margin),
            strength=rulebook.strength("rain-soon", below_least=below_least),
        )


def _margin(work: Work, sky: Sky, grid: Samples) -> Floats:
    """Minutes that must lie between rain-safe and rain; more where the forecast is far off, or old."""
    early = grid.unix - sky.issued_at.timestamp() > work.limits.confidence_hours * 3600
    factor = np.where(early, work.limits.confidence_factor, 1.0)
    factor = np.maximum(factor, work.limits.stretch(sky.age_hours))
    return np.asarray(work.limits.rain_margin_minutes * factor, dtype=np.float64)


def _unknown(work: Work, sky: Sky, grid: Samples, safe: Floats) -> Condition:
    """Dew must be known until the film is safe, rain until its margin is over; what nobody forecast may be wet."""
    rain = np.isnan(grid["rain_mm"]) | np.isnan(grid["rain_prob_pct"])
    end = grid.span.end.timestamp()
    dry_until = np.minimum(_next_after(grid, rain), end)
    warm_until = np.minimum(_next_after(grid, np.isnan(samples.spread_k(grid))), end)
    with np.errstate(invalid="ignore"):
        fails = (dry_until < safe + _margin(work, sky, grid) * 60) | (warm_until < safe)
    fails |= np.isnan(safe) & _dark_soon(grid)
    return Condition(
        code="unknown",
        fails=fails,
        excess=np.zeros(len(safe)),
        say=lambda i: (
            f"{_safe_when(work, safe[i])}, and the forecast of rain and dew ends before "
            "that is sure: unknown, so not a go",
            {},
        ),
        strength=rulebook.strength("unknown"),
    )


def _soon(work: Work, safe: Floats, first: Floats, margin: Floats) -> Say:
    def say(i: int) -> tuple[str, dict[str, float]]:
        spare = float(first[i] - safe[i]) / 60
        return (
            f"film rain-safe {_clock(work, safe[i])}, rain {_clock(work, first[i])}: "
            f"{_spell(abs(spare))} {'to spare' if spare >= 0 else 'too late'}, needs {_spell(margin[i])}",
            {"spare_minutes": spare, "margin_minutes": float(margin[i])},
        )

    return say


def _dew(work: Work, grid: Samples, safe: Floats, words: Words) -> Condition:
    spread = samples.spread_k(grid)
    with np.errstate(invalid="ignore"):
        wet = _next_after(grid, spread <= 0)
        fails = wet < safe
    return Condition(
        code="dew-before-safe",
        fails=fails,
        excess=np.nan_to_num(safe - wet),
        say=_dewy(work, grid, safe, wet, words),
        strength=rulebook.strength("dew-before-safe"),
    )


def _dewy(work: Work, grid: Samples, safe: Floats, wet: Floats, words: Words) -> Say:
    spread = samples.spread_k(grid)

    def say(i: int) -> tuple[str, dict[str, float]]:
        at = int(np.searchsorted(grid.unix, wet[i]))
        return (
            f"film rain-safe {_clock(work, safe[i])}, but dew falls {_clock(work, wet[i])}: "
            f"spread {words.difference(spread[at])}, needs above 0",
            {
                "spread_k": float(spread[at]),
                "late_minutes": float((safe[i] - wet[i]) / 60),
            },
        )

    return say


def _next_after(grid: Samples, mask: Bools) -> Floats:
    """Unix seconds of the first moment from each on at which a mask holds; infinity where it never does."""
    marked = np.where(mask, grid.unix, np.inf)
    return np.asarray(np.minimum.accumulate(marked[::-1])[::-1], dtype=np.float64)


def _safe_when(work: Work, safe: float) -> str:
    if np.isnan(safe):
        return "film laid then would be rain-safe at a time not known yet"
    return f"film rain-safe {_clock(work, safe)}"


def _clock(work: Work, unix: float) -> str:
    from_zone = datetime.fromtimestamp(unix, UTC).astimezone(work.zone)
    return f"{from_zone:%a %H:%M}"


def _spell(minutes: float) -> str:
    """A length of time in hours and minutes."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d}" if hours else f"{rest} min"
