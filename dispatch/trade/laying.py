"""Whether film laid so that it ends at a moment would be safe before rain and dew come."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from dispatch.trade import cure, roof, rulebook, samples
from dispatch.trade.condition import Bools, Condition, Say, always
from dispatch.trade.cure import Surface
from dispatch.trade.samples import Samples
from dispatch.trade.sky import HOUR, Sky
from dispatch.trade.spans import Span
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words, apart
from dispatch.trade.work import Work

_TWO_DAYS_SECONDS = 48 * 3600


@dataclass(frozen=True, kw_only=True)
class _Bare:
    """From when on film that ends at each moment lies under the sky, in Unix seconds; infinity where it never does.

    ``perhaps`` is when it may for all that is known. In the open both are the moment itself.
    """

    surely: Floats
    perhaps: Floats


def check(work: Work, sky: Sky, grid: Samples, words: Words) -> Iterator[Condition]:
    """Conditions on the end of a visit that lays film.

    A roof keeps rain and dew off until the first gust at which it must be down. From then on it counts as gone for
    good, and the same margin before rain counts as in the open. Of a roof whose gust nobody told there are none.
    """
    sheet, surface = work.sheet, samples.surface(work, sky)
    stays = work.cover == "roof" and work.down_gust_ms is None
    if sheet is None or sheet.rain_safe_ref_h is None or stays or surface is None:
        return
    safe = _safe_at(sheet.rain_safe_ref_h, sheet.cure_min_c, grid, surface)
    bare = _bare(work, grid)
    yield _never(work, grid, safe, bare)
    yield from _rain(work, sky, grid, safe, bare, words)
    yield _dew(work, grid, safe, bare, words)
    yield _unknown(work, sky, grid, safe, bare)


def _bare(work: Work, grid: Samples) -> _Bare:
    if work.down_gust_ms is None:
        return _Bare(surely=grid.unix, perhaps=grid.unix)
    struck = roof.struck(grid["gust_ms"], work.down_gust_ms)
    return _Bare(
        surely=_next_after(grid, struck),
        perhaps=_next_after(grid, struck | np.isnan(grid["gust_ms"])),
    )


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


def _never(work: Work, grid: Samples, safe: Floats, bare: _Bare) -> Condition:
    """Film that two known days do not set: it is too cold, which is not the same as not knowing; a roof that stays keeps it."""
    return Condition(
        code="will-not-set",
        fails=np.isnan(safe) & ~_dark_soon(grid) & np.isfinite(bare.surely),
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


def _rain(
    work: Work, sky: Sky, grid: Samples, safe: Floats, bare: _Bare, words: Words
) -> Iterator[Condition]:
    """Too little time before rain: below the least margin a wall, below the full one the owner's to overrule."""
    first = _next_at(grid, samples.wet(grid, work), bare.surely)
    margin = _margin(work, sky, grid)
    least = np.full(len(safe), work.limits.rain_margin_least_minutes)
    left = (first - safe) / 60
    for below_least, needs in ((True, np.minimum(least, margin)), (False, margin)):
        with np.errstate(invalid="ignore"):
            fails = left < needs
        yield Condition(
            code="rain-soon",
            fails=fails,
            excess=np.nan_to_num(needs - left),
            say=_once_bare(work, grid, bare, words, _soon(work, safe, first, margin)),
            strength=rulebook.strength("rain-soon", below_least=below_least),
        )


def _margin(work: Work, sky: Sky, grid: Samples) -> Floats:
    """Minutes that must lie between rain-safe and rain; more where the forecast is far off, or old."""
    early = grid.unix - sky.issued_at.timestamp() > work.limits.confidence_hours * 3600
    factor = np.where(early, work.limits.confidence_factor, 1.0)
    factor = np.maximum(factor, work.limits.stretch(sky.age_hours))
    return np.asarray(work.limits.rain_margin_minutes * factor, dtype=np.float64)


def _unknown(
    work: Work, sky: Sky, grid: Samples, safe: Floats, bare: _Bare
) -> Condition:
    """Dew must be known until the film is safe, rain until its margin is over; what nobody forecast may be wet.

    Under a roof so must gusts: one that nobody forecast may have it down, and then what is wet reaches the film.
    """
    rain = np.isnan(grid["rain_mm"]) | np.isnan(grid["rain_prob_pct"])
    spread = samples.spread_k(grid)
    with np.errstate(invalid="ignore"):
        dry_until = _known_until(grid, bare, rain, samples.wet(grid, work))
        warm_until = _known_until(grid, bare, np.isnan(spread), spread <= 0)
        fails = (dry_until < safe + _margin(work, sky, grid) * 60) | (warm_until < safe)
    fails |= np.isnan(safe) & _dark_soon(grid)
    what = "gusts, rain and dew" if work.cover == "roof" else "rain and dew"
    return Condition(
        code="unknown",
        fails=fails,
        excess=np.zeros(len(safe)),
        say=lambda i: (
            f"{_safe_when(work, safe[i])}, and the forecast of {what} ends before "
            "that is sure: unknown, so not a go",
            {},
        ),
        strength=rulebook.strength("unknown"),
    )


def _known_until(grid: Samples, bare: _Bare, unknown: Bools, wets: Bools) -> Floats:
    """Until when it is known of each moment's film whether something wets it."""
    first = _next_at(grid, unknown, bare.perhaps)
    perhaps = _next_at(grid, wets, bare.perhaps)
    first = np.minimum(first, np.where(perhaps < bare.surely, perhaps, np.inf))
    return np.asarray(np.minimum(first, grid.span.end.timestamp()), dtype=np.float64)


def _soon(work: Work, safe: Floats, first: Floats, margin: Floats) -> Say:
    def say(i: int) -> tuple[str, dict[str, float]]:
        spare = float(first[i] - safe[i]) / 60
        return (
            f"film rain-safe {_clock(work, safe[i])}, rain {_clock(work, first[i])}: "
            f"{_spell(abs(spare))} {'to spare' if spare >= 0 else 'too late'}, needs {_spell(margin[i])}",
            {"spare_minutes": spare, "margin_minutes": float(margin[i])},
        )

    return say


def _once_bare(work: Work, grid: Samples, bare: _Bare, words: Words, say: Say) -> Say:
    """A sentence with what has the roof down before it; in the open as it is."""
    limit = work.down_gust_ms
    if limit is None:
        return say
    struck = roof.struck(grid["gust_ms"], limit)

    def whole(i: int) -> tuple[str, dict[str, float]]:
        at = _begins(struck, int(np.searchsorted(grid.unix, bare.surely[i])))
        gust_ms = grid["gust_ms"][at]
        gust, down = apart(words.speed, gust_ms, limit)
        sentence, numbers = say(i)
        return (
            f"the roof must be down {_clock(work, grid.unix[at])} (gust {gust}, its limit {down}): {sentence}",
            numbers | {"gust_ms": float(gust_ms), "down_gust_ms": limit},
        )

    return whole


def _dew(
    work: Work, grid: Samples, safe: Floats, bare: _Bare, words: Words
) -> Condition:
    spread = samples.spread_k(grid)
    with np.errstate(invalid="ignore"):
        wet = _next_at(grid, spread <= 0, bare.surely)
        fails = wet < safe
    return Condition(
        code="dew-before-safe",
        fails=fails,
        excess=np.nan_to_num(safe - wet),
        say=_once_bare(work, grid, bare, words, _dewy(work, grid, safe, wet, words)),
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


def _begins(mask: Bools, index: int) -> int:
    """Where the run of a mask begins that holds at an index."""
    off = np.flatnonzero(~mask[:index])
    return int(off[-1]) + 1 if len(off) else 0


def _next_after(grid: Samples, mask: Bools) -> Floats:
    """Unix seconds of the first moment from each on at which a mask holds; infinity where it never does."""
    marked = np.where(mask, grid.unix, np.inf)
    return np.asarray(np.minimum.accumulate(marked[::-1])[::-1], dtype=np.float64)


def _next_at(grid: Samples, mask: Bools, since: Floats) -> Floats:
    """The same from another moment on for each; infinity where that lies beyond the grid."""
    after = np.append(_next_after(grid, mask), np.inf)
    return np.asarray(after[np.searchsorted(grid.unix, since)], dtype=np.float64)


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
