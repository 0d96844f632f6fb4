"""The numbers of a visit's hours beside the limits they are held to, whether or not any is broken."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from dispatch.trade import samples
from dispatch.trade.limits import FamilyLimits
from dispatch.trade.samples import Samples
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words
from dispatch.trade.work import Work

# A limit stored as this, above or below nought, limits nothing.
_NO_LIMIT = 1e6
# Rules that compare the number of another.
_SAME_NUMBER: Mapping[str, str] = {"air-hot": "air-cold", "dry-air": "humid"}
_Asked = tuple[str, Floats, tuple[float, float], Callable[[float], str], str]


@dataclass(frozen=True, kw_only=True)
class Compared:
    """One number over some hours: from the least to the most, and what it must keep to, in words.

    ``keeps`` is None where it is not known for every moment; ``code`` names the rule.
    """

    name: str
    there: str
    limit: str
    keeps: bool | None
    code: str


def compare(
    work: Work, sky: Sky | None, span: Span, words: Words
) -> tuple[Compared, ...]:
    """Every number a piece of work is held to over a span; none where the sky does not matter to it."""
    bounds = work.bounds
    if bounds is None:
        return ()
    grid = samples.take(work, sky or Sky(hours=(), issued_at=span.start), span)
    return tuple(_rows(work, grid, bounds, words))


def ranges(
    work: Work, sky: Sky | None, horizon: Span, words: Words
) -> Callable[[Span, str], tuple[str, str] | None]:
    """What a rule's number comes to over any span of a horizon, sampled once: its name, and from the least to the most.

    None where the rule compares no number, or none is known there.
    """
    bounds = work.bounds
    if bounds is None or sky is None:
        return lambda _span, _code: None
    grid = samples.take(work, sky, horizon)
    asked = {row[-1]: row for row in _asked(work, grid, bounds, words)}

    def there(span: Span, code: str) -> tuple[str, str] | None:
        row = asked.get(_SAME_NUMBER.get(code, code))
        if row is None:
            return None
        name, values, _, say, _ = row
        inside = (grid.unix >= span.start.timestamp()) & (
            grid.unix < span.end.timestamp()
        )
        known = values[inside & np.isfinite(values)]
        if not len(known):
            return None
        return name, _from_to(say(float(known.min())), say(float(known.max())))

    return there


def _rows(
    work: Work, grid: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Compared]:
    for name, values, limits, say, code in _asked(work, grid, bounds, words):
        if limits != (-_NO_LIMIT, _NO_LIMIT):
            yield _compared(name, values, limits, say, code)


def _asked(
    work: Work, grid: Samples, bounds: FamilyLimits, words: Words
) -> tuple[_Asked, ...]:
    screened = work.cover != "open"
    wind = bounds.screened_wind_max_ms if screened else bounds.wind_max_ms
    gust = bounds.screened_gust_max_ms if screened else bounds.gust_max_ms
    coldest, hottest = _hull(work, bounds)
    shaded = bool(work.panels) or work.cover == "roof"
    hot_c = grid.surface_c if shaded else grid.lit_surface_c
    return (
        (
            "Air",
            grid["air_c"],
            (bounds.air_min_c, bounds.air_max_c),
            words.degrees,
            "air-cold",
        ),
        (
            "Hull, coldest",
            grid.surface_c,
            (coldest, _NO_LIMIT),
            words.degrees,
            "surface-cold",
        ),
        ("Hull, hottest", hot_c, (-_NO_LIMIT, hottest), words.degrees, "surface-hot"),
        ("Humidity", grid["rh_pct"], _humidity(bounds), _percent, "humid"),
        (
            "Hull above the dew point",
            samples.spread_k(grid),
            (bounds.spread_min_k, _NO_LIMIT),
            words.difference,
            "spread",
        ),
        ("Wind", grid["wind_ms"], (-_NO_LIMIT, wind), words.speed, "wind"),
        ("Gusts", grid["gust_ms"], (-_NO_LIMIT, gust), words.speed, "gust"),
    )


def _hull(work: Work, bounds: FamilyLimits) -> tuple[float, float]:
    """Work inside does not ask how warm her hull is."""
    if work.family == "inside":
        return -_NO_LIMIT, _NO_LIMIT
    return bounds.surface_min_c, bounds.surface_max_c


def _humidity(bounds: FamilyLimits) -> tuple[float, float]:
    if not bounds.asks_humidity:
        return -_NO_LIMIT, _NO_LIMIT
    return bounds.rh_min_pct or -_NO_LIMIT, bounds.rh_max_pct


def _percent(value: float) -> str:
    return f"{value:.0f} %"


def _compared(
    name: str,
    values: Floats,
    limits: tuple[float, float],
    say: Callable[[float], str],
    code: str,
) -> Compared:
    known = values[np.isfinite(values)]
    least, most = limits
    inside = bool(np.all((known >= least) & (known <= most)))
    missing = len(known) < len(values)
    there = (
        _from_to(say(float(known.min())), say(float(known.max()))) if len(known) else ""
    )
    parts = [there] if there else []
    parts += ["not known for every hour" if there else "not known"] if missing else []
    return Compared(
        name=name,
        there=", ".join(parts),
        limit=_limit(least, most, say),
        # What is broken in an hour that is known is broken; what is kept there may not be in the others.
        keeps=None if inside and missing else inside,
        code=code,
    )


def _from_to(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _limit(least: float, most: float, say: Callable[[float], str]) -> str:
    if least <= -_NO_LIMIT:
        return f"at most {say(most)}"
    if most >= _NO_LIMIT:
        return f"at least {say(least)}"
    return f"{say(least)} to {say(most)}"
