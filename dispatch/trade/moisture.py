"""Dew, a hull still wet from it, and the humidity of the air."""

from collections.abc import Iterator

import numpy as np

from dispatch.trade import roof, rulebook
from dispatch.trade import samples as grid
from dispatch.trade.condition import (
    HAIR,
    Bools,
    Condition,
    Say,
    always,
    over,
    rule,
    under,
)
from dispatch.trade.limits import FamilyLimits
from dispatch.trade.samples import Samples
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words, apart
from dispatch.trade.work import Work

_ON_A_DRY_HULL = ("spray", "gelcoat", "wipe-on", "letters")


def check(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Condition]:
    """The spread at the hull, whether she is still wet from the night or from rain, and the humidity."""
    rh, spread = samples["rh_pct"], grid.spread_k(samples)
    yield under(
        "spread",
        spread,
        bounds.spread_min_k,
        _spread(work, samples, bounds, words),
        rule("spread", work),
    )
    if work.family in _ON_A_DRY_HULL and _may_be_wetted(work):
        yield _wet_hull(work, samples, bounds, words)
    for compare, code, limit, word in (
        (over, "humid", bounds.rh_max_pct, "at most"),
        (under, "dry-air", bounds.rh_min_pct, "at least"),
    ):
        yield compare(
            code,
            rh,
            limit,
            _humidity(rh, limit, word),
            rule(code, work),
        )


def _may_be_wetted(work: Work) -> bool:
    """A roof keeps dew and rain off, unless there is a gust at which it must be down."""
    return work.cover != "roof" or work.down_gust_ms is not None


def _spread(work: Work, samples: Samples, bounds: FamilyLimits, words: Words) -> Say:
    surface, dew, limit = samples.surface_c, samples["dew_c"], bounds.spread_min_k
    spread = grid.spread_k(samples)

    def say(i: int) -> tuple[str, dict[str, float]]:
        there, least = apart(words.difference, spread[i], limit)
        read = grid.when_read(samples, work, i)
        numbers = {"surface_c": surface[i], "dew_c": dew[i]}
        return (
            f"surface {words.degrees(surface[i])}{read}, "
            f"dew point {words.degrees(dew[i])}: spread {there}, needs {least}",
            numbers | {"spread_k": spread[i], "limit_k": limit},
        )

    return say


def _humidity(rh: Floats, limit: float, word: str) -> Say:
    def say(i: int) -> tuple[str, dict[str, float]]:
        there, most = apart(lambda x, more: f"{x:.{more}f} %", rh[i], limit)
        numbers = {"rh_pct": rh[i], "limit_pct": limit}
        return f"humidity {there}, needs {word} {most}", numbers

    return say


def _wet_hull(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Condition:
    needs, minutes = bounds.spread_min_k, work.limits.dry_minutes
    roofed = " while the roof was down" if work.cover == "roof" else ""
    return Condition(
        code="wet-hull",
        fails=_still_wet(work, samples, needs),
        excess=np.zeros(len(samples.unix)),
        say=always(
            f"she was wet from dew or rain{roofed}: until the spread has been {words.difference(needs)} "
            f"for {minutes:.0f} min she counts as wet, unless wiped and blown dry",
            limit_k=needs,
            dry_minutes=minutes,
        ),
        strength=rulebook.strength("wet-hull"),
    )


def _still_wet(work: Work, samples: Samples, needs_k: float) -> Bools:
    """Wet from dew or rain on, until the spread has sufficed for long enough; at first wet if it does not suffice then.

    Hours of which dew or rain are not known count as wet. Under a roof only those count in which it is down, and at
    first she is dry.
    """
    spread = grid.spread_k(samples)
    unknown = np.isnan(spread + samples["rain_mm"] + samples["rain_prob_pct"])
    with np.errstate(invalid="ignore"):
        wetted = (spread <= 0) | grid.wet(samples, work) | unknown
        drying = (spread >= needs_k - HAIR).tolist()
    wetted = (wetted & _bare(work, samples, wetted)).tolist()
    out, wet, dry_steps = [], work.cover != "roof" and not drying[0], 0
    for wets, dries in zip(wetted, drying, strict=True):
        dry_steps = dry_steps + 1 if dries and not wets else 0
        wet = wets or (wet and dry_steps <= grid.steps(work.limits.dry_minutes))
        out.append(wet)
    return np.array(out, dtype=np.bool_)


def _bare(work: Work, samples: Samples, wetted: Bools) -> Bools:
    """Moments without a roof over her: under one from a gust on at which it must be down until nothing wets her any more.

    A gust that nobody forecast may have it down.
    """
    limit, gusts = work.down_gust_ms, samples["gust_ms"]
    if work.cover != "roof" or limit is None:
        return np.ones(len(wetted), dtype=np.bool_)
    struck = roof.struck(gusts, limit) | np.isnan(gusts)
    down, out = False, []
    for falls, wets in zip(struck.tolist(), wetted.tolist(), strict=True):
        down = falls or (down and wets)
        out.append(down)
    return np.array(out, dtype=np.bool_)
