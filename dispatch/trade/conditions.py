"""The checks a moment must pass, each over a whole grid: where it fails, by how much, and in what words."""

import math
from collections.abc import Iterator

import numpy as np

from dispatch.trade import moisture, overspray, roof, rulebook, shade
from dispatch.trade import samples as grid
from dispatch.trade.condition import (
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
from dispatch.trade.shade import Hull
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words, apart
from dispatch.trade.work import Neighbour, Work


def check(work: Work, samples: Samples, words: Words) -> Iterator[Condition]:
    """Every condition of a piece of work, the one that binds first where several fail at once."""
    bounds = work.bounds
    if bounds is None:
        return
    yield _unknown(work, samples, bounds)
    yield from _rain(work, samples, bounds, words)
    yield from _dry_after(work, samples, bounds)
    yield from _shade(work, samples)
    yield from _temperatures(work, samples, bounds, words)
    yield from roof.check(work, samples, words)
    yield from moisture.check(work, samples, bounds, words)
    yield from _wind(work, samples, bounds, words)
    yield from _overspray(work, samples, words)


def _unknown(work: Work, samples: Samples, bounds: FamilyLimits) -> Condition:
    needed = ["air_c", "wind_ms", "gust_ms"]
    needed += ["dew_c"] if bounds.asks_spread else []
    needed += ["rh_pct"] if bounds.asks_humidity else []
    needed += ["rain_mm", "rain_prob_pct"] if _rained_on(work) else []
    needed += ["from_deg"] if work.neighbours and work.family == "spray" else []
    missing = np.logical_or.reduce([np.isnan(samples[name]) for name in needed])
    # Film still levels in the wind after the crew is done with it.
    blown = np.isnan(samples["wind_ms"]) | np.isnan(samples["gust_ms"])
    missing |= grid.soon(blown, grid.tail_minutes(samples, work))
    return Condition(
        code="unknown",
        fails=missing,
        excess=np.zeros(len(missing)),
        say=lambda _: ("no forecast for these hours: unknown, so not a go", {}),
        strength=rulebook.strength("unknown"),
    )


def _rain(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Condition]:
    if not _rained_on(work):
        return
    mm, chance = samples["rain_mm"], samples["rain_prob_pct"]
    light, likely = bounds.rain_max_mm, work.limits.rain_prob_pct
    if light:
        fails = mm > light
        needs = f"needs at most {words.rain(light)} in an hour"
    else:
        fails = (mm >= work.limits.rain_mm - 1e-9) | (chance >= likely)
        needs = f"needs a chance below {likely:.0f} %"
    yield Condition(
        code="rain",
        fails=fails,
        excess=np.nan_to_num(mm) * 100 + np.nan_to_num(chance),
        say=lambda i: (
            f"rain {words.rain(mm[i])}, chance {chance[i]:.0f} %: {needs}",
            {"rain_mm": mm[i], "rain_prob_pct": chance[i]},
        ),
        strength=rulebook.strength("rain"),
    )


def _dry_after(
    work: Work, samples: Samples, bounds: FamilyLimits
) -> Iterator[Condition]:
    """What must stay dry for a while once it is done; what nobody forecast may be wet."""
    minutes = bounds.dry_after_minutes
    if not minutes or not _rained_on(work):
        return
    unknown = np.isnan(samples["rain_mm"] + samples["rain_prob_pct"])
    after = np.full(len(samples.unix), minutes)
    for code, wets, what in (
        ("rain", grid.wet(samples, work), "rain or another wetting would come"),
        ("unknown", unknown, "nobody has forecast rain"),
    ):
        yield Condition(
            code=code,
            fails=grid.soon(wets, after),
            excess=np.zeros(len(after)),
            say=always(
                f"{what} within {minutes:.0f} min after it: it must stay dry that long",
                dry_after_minutes=minutes,
            ),
            strength=rulebook.strength(code),
        )


def _rained_on(work: Work) -> bool:
    return work.cover != "roof" and work.family != "inside"


def _shade(work: Work, samples: Samples) -> Iterator[Condition]:
    if not work.panels or work.cover == "roof":
        return
    if work.hull is None:
        nowhere = np.ones(len(samples.unix), dtype=np.bool_)
        say = always(
            "nobody has read which way she heads: shade is unknown, so not a go"
        )
        yield Condition(
            code="no-heading",
            fails=nowhere,
            excess=np.zeros(len(nowhere)),
            say=say,
            strength=rulebook.strength("no-heading"),
        )
        return
    with np.errstate(invalid="ignore"):
        overcast = samples["cloud_pct"] >= work.limits.shade_cloud_pct
    for panel in work.panels:
        lit = shade.lit(work.site, work.hull, panel, samples.unix) & ~overcast
        yield _sun(panel, lit, grid.tail_minutes(samples, work))
        yield _rest(work, work.hull, panel, lit, samples)


def _sun(panel: str, lit: Bools, tail_minutes: Floats) -> Condition:
    def say(i: int) -> tuple[str, dict[str, float]]:
        tail = math.ceil(tail_minutes[i])
        return (
            f"{panel} is in the sun, or would be within {tail} min of the last coat: it needs shade",
            {"tail_minutes": float(tail)},
        )

    return Condition(
        code="sun",
        # The sun may come any time after the last sample that was still in shade: one step more.
        fails=grid.soon(lit, tail_minutes + grid.STEP_MINUTES),
        excess=lit.astype(np.float64),
        say=say,
        strength=rulebook.strength("sun"),
    )


def _rest(
    work: Work, hull: Hull, panel: str, lit: Bools, samples: Samples
) -> Condition:
    """A panel that was in the sun rests before it is sprayed; before the span clouds are not known, so none are."""
    rest = (
        work.limits.dark_rest_minutes if work.dark else work.limits.white_rest_minutes
    )
    earlier = samples.unix[0] - grid.STEP_MINUTES * 60 * np.arange(
        grid.steps(rest), 0, -1
    )
    was_lit = np.concatenate((shade.lit(work.site, hull, panel, earlier), lit))
    colour = "dark" if work.dark else "white"
    return Condition(
        code="resting",
        fails=grid.shifted_on(was_lit, rest)[len(earlier) :] & ~lit,
        excess=np.zeros(len(lit)),
        say=always(
            f"{panel} has just come out of the sun: a {colour} hull rests {rest:.0f} min",
            rest_minutes=rest,
        ),
        strength=rulebook.strength("resting"),
    )


def _temperatures(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Condition]:
    air_c = samples["air_c"]
    hot_c = (
        samples.surface_c
        if work.panels or work.cover == "roof"
        else samples.lit_surface_c
    )
    rows = (
        (under, "air-cold", "air", air_c, bounds.air_min_c, "at least"),
        (over, "air-hot", "air", air_c, bounds.air_max_c, "at most"),
        (
            under,
            "surface-cold",
            "surface",
            samples.surface_c,
            bounds.surface_min_c,
            "at least",
        ),
        (over, "surface-hot", "surface", hot_c, bounds.surface_max_c, "at most"),
    )
    for compare, code, what, value, limit, word in rows:
        if work.family == "inside" and what == "surface":
            continue
        yield compare(
            code,
            value,
            limit,
            _degrees(words, what, value, limit, word),
            rule(code, work),
        )


def _degrees(words: Words, what: str, value: Floats, limit: float, word: str) -> Say:
    def say(i: int) -> tuple[str, dict[str, float]]:
        there, least = apart(words.degrees, value[i], limit)
        numbers = {f"{what}_c": value[i], "limit_c": limit}
        return f"{what} {there}, needs {word} {least}", numbers

    return say


def _wind(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Condition]:
    screened = work.cover != "open"
    rows = (
        (
            "gust",
            "gust_ms",
            bounds.screened_gust_max_ms if screened else bounds.gust_max_ms,
        ),
        (
            "wind",
            "wind_ms",
            bounds.screened_wind_max_ms if screened else bounds.wind_max_ms,
        ),
    )
    for code, name, limit in rows:
        value = grid.worst_ahead(samples[name], grid.tail_minutes(samples, work))
        yield over(
            code, value, limit, _speed(words, code, value, limit), rule(code, work)
        )


def _speed(words: Words, what: str, value: Floats, limit: float) -> Say:
    def say(i: int) -> tuple[str, dict[str, float]]:
        there, most = apart(words.speed, value[i], limit)
        numbers = {f"{what}_ms": value[i], "limit_ms": limit}
        return f"{what} {there}, needs at most {most}", numbers

    return say


def _overspray(work: Work, samples: Samples, words: Words) -> Iterator[Condition]:
    if work.family != "spray":
        return
    for neighbour in work.neighbours:
        if not neighbour.sheeted:
            yield _near(work, samples, words, neighbour)


def _near(
    work: Work, samples: Samples, words: Words, neighbour: Neighbour
) -> Condition:
    reach = overspray.reach_m(work, samples, neighbour)
    return over(
        "overspray",
        reach,
        neighbour.distance_m,
        lambda i: (
            f"{neighbour.what} stands {words.distance(neighbour.distance_m)} off; "
            f"overspray may carry {words.distance(reach[i])} in a gust of {words.speed(samples['gust_ms'][i])}",
            {
                "reach_m": reach[i],
                "distance_m": neighbour.distance_m,
                "gust_ms": samples["gust_ms"][i],
            },
        ),
        rulebook.strength(
            "overspray",
            below_least=neighbour.distance_m < work.limits.drift_base_m,
        ),
    )
