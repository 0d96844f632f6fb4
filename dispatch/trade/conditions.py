"""The checks a moment must pass, each over a whole grid: where it fails, by how much, and in what words."""

from collections.abc import Iterator

import numpy as np

from dispatch.trade import overspray, shade
from dispatch.trade import samples as grid
from dispatch.trade.condition import Bools, Condition, Say, always
from dispatch.trade.limits import FamilyLimits
from dispatch.trade.samples import Samples
from dispatch.trade.sun import Floats
from dispatch.trade.words import Words
from dispatch.trade.work import Neighbour, Work


def check(work: Work, samples: Samples, words: Words) -> Iterator[Condition]:
    """Every condition of a piece of work, the one that binds first where several fail at once."""
    bounds = work.bounds
    if bounds is None:
        return
    yield _unknown(work, samples)
    yield from _rain(work, samples, bounds, words)
    yield from _shade(work, samples)
    yield from _temperatures(work, samples, bounds, words)
    yield from _moisture(work, samples, bounds, words)
    yield from _wind(work, samples, bounds, words)
    yield from _overspray(work, samples, words)


def _unknown(work: Work, samples: Samples) -> Condition:
    needed = ["air_c", "dew_c", "rh_pct", "wind_ms", "gust_ms"]
    needed += (
        []
        if work.family == "inside" or work.cover == "roof"
        else ["rain_mm", "rain_prob_pct"]
    )
    needed += ["from_deg"] if work.neighbours and work.family == "spray" else []
    missing = np.logical_or.reduce([np.isnan(samples[name]) for name in needed])
    return Condition(
        code="unknown",
        fails=missing,
        excess=np.zeros(len(missing)),
        say=lambda _: ("no forecast for these hours: unknown, so not a go", {}),
        strength="owner",
    )


def _over(code: str, value: Floats, limit: float, say: Say, strength: str) -> Condition:
    return _past(code, value - limit, say, strength)


def _under(
    code: str, value: Floats, limit: float, say: Say, strength: str
) -> Condition:
    return _past(code, limit - value, say, strength)


def _past(code: str, by: Floats, say: Say, strength: str) -> Condition:
    with np.errstate(invalid="ignore"):
        return Condition(
            code=code,
            fails=by > 0,
            excess=np.nan_to_num(by),
            say=say,
            strength=strength,
        )


def _rule(work: Work) -> str:
    """A product sheet's limits are a wall; the outfit's own are the owner's to overrule."""
    return "wall" if work.sheet else "owner"


def _rain(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Condition]:
    if work.cover == "roof" or work.family == "inside":
        return
    mm, chance = samples["rain_mm"], samples["rain_prob_pct"]
    light = bounds.rain_max_mm
    with np.errstate(invalid="ignore"):
        wet = mm > max(light, work.limits.rain_mm - 1e-9)
        fails = wet if light else wet | (chance >= work.limits.rain_prob_pct)
    yield Condition(
        code="rain",
        fails=fails,
        excess=np.nan_to_num(mm) * 100 + np.nan_to_num(chance),
        say=lambda i: (
            f"rain {words.rain(mm[i])}, chance {chance[i]:.0f} %: needs below {work.limits.rain_prob_pct:.0f} %",
            {"rain_mm": mm[i], "rain_prob_pct": chance[i]},
        ),
        strength="owner",
    )


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
            strength="wall",
        )
        return
    with np.errstate(invalid="ignore"):
        overcast = samples["cloud_pct"] >= work.limits.shade_cloud_pct
    for panel in work.panels:
        lit = shade.lit(work.site, work.hull, panel, samples.unix) & ~overcast
        yield _sun(work, panel, lit)
        yield _rest(work, panel, lit)


def _sun(work: Work, panel: str, lit: Bools) -> Condition:
    return Condition(
        code="sun",
        fails=grid.shifted_back(lit, work.tail_minutes),
        excess=lit.astype(np.float64),
        say=always(
            f"{panel} is in the sun, or would be within {work.tail_minutes} min of the last coat: it needs shade",
            tail_minutes=float(work.tail_minutes),
        ),
        strength="owner",
    )


def _rest(work: Work, panel: str, lit: Bools) -> Condition:
    rest = (
        work.limits.dark_rest_minutes if work.dark else work.limits.white_rest_minutes
    )
    hull = "dark" if work.dark else "white"
    return Condition(
        code="resting",
        fails=grid.shifted_on(lit, rest) & ~lit,
        excess=np.zeros(len(lit)),
        say=always(
            f"{panel} has just come out of the sun: a {hull} hull rests {rest:.0f} min",
            rest_minutes=rest,
        ),
        strength="lead",
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
        (_under, "air-cold", "air", air_c, bounds.air_min_c, "at least"),
        (_over, "air-hot", "air", air_c, bounds.air_max_c, "at most"),
        (
            _under,
            "surface-cold",
            "surface",
            samples.surface_c,
            bounds.surface_min_c,
            "at least",
        ),
        (_over, "surface-hot", "surface", hot_c, bounds.surface_max_c, "at most"),
    )
    for compare, code, what, value, limit, word in rows:
        if work.family == "inside" and what == "surface":
            continue
        yield compare(
            code, value, limit, _degrees(words, what, value, limit, word), _rule(work)
        )


def _degrees(words: Words, what: str, value: Floats, limit: float, word: str) -> Say:
    return lambda i: (
        f"{what} {words.degrees(value[i])}, needs {word} {words.degrees(limit)}",
        {f"{what}_c": value[i], "limit_c": limit},
    )


def _moisture(
    work: Work, samples: Samples, bounds: FamilyLimits, words: Words
) -> Iterator[Condition]:
    rh, spread, dew = samples["rh_pct"], grid.spread_k(samples), samples["dew_c"]
    yield _under(
        "spread",
        spread,
        bounds.spread_min_k,
        lambda i: (
            f"surface {words.degrees(samples.surface_c[i])}, dew point {words.degrees(dew[i])}: "
            f"spread {words.difference(spread[i])}, needs {words.difference(bounds.spread_min_k)}",
            {
                "surface_c": samples.surface_c[i],
                "dew_c": dew[i],
                "spread_k": spread[i],
                "limit_k": bounds.spread_min_k,
            },
        ),
        _rule(work),
    )
    for compare, code, limit, word in (
        (_over, "humid", bounds.rh_max_pct, "at most"),
        (_under, "dry-air", bounds.rh_min_pct, "at least"),
    ):
        yield compare(
            code,
            rh,
            limit,
            _humidity(rh, limit, word),
            _rule(work),
        )


def _humidity(rh: Floats, limit: float, word: str) -> Say:
    return lambda i: (
        f"humidity {rh[i]:.0f} %, needs {word} {limit:.0f} %",
        {"rh_pct": rh[i], "limit_pct": limit},
    )


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
        value = samples[name]
        yield _over(code, value, limit, _speed(words, code, value, limit), _rule(work))


def _speed(words: Words, what: str, value: Floats, limit: float) -> Say:
    return lambda i: (
        f"{what} {words.speed(value[i])}, needs at most {words.speed(limit)}",
        {f"{what}_ms": value[i], "limit_ms": limit},
    )


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
    return _over(
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
        "wall" if neighbour.distance_m < work.limits.drift_base_m else "owner",
    )
