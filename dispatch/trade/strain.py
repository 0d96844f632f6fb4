"""What heat and cold ask of people at work: water, shade, rest, warmth. Cautions; never that work is safe."""

import math
from dataclasses import dataclass

from dispatch.trade import air, wet_bulb
from dispatch.trade.units import c_to_f, f_to_c, mph_to_ms, ms_to_mph

# Where nobody forecasts the wind, cold is reckoned with the strongest one that any work goes on in.
_STRONGEST_MS = mph_to_ms(25)
RULES = ("stricter", "air", "index", "wbgt")


@dataclass(frozen=True, kw_only=True)
class Strain:
    """From where on heat and cold ask for something: by air, heat index or WBGT; a place says which holds.

    Defaults, never advice, and each is edited by the outfit. Water and shade from 80 F of air, and 95 F as high
    heat: California, 8 CCR 3395. Heat index of 80, 90 and 100 F: Maryland, COMAR 09.12.32.08; Oregon,
    OAR 437-002-0156, begins at 80 too. Rest from 88 F of air and the wind chill are assumptions, as is that the
    work takes 300 W, moderate by NIOSH 2016-106, which sets the limits of WBGT.
    """

    shade_air_c: float = f_to_c(80)
    rest_air_c: float = f_to_c(88)
    high_air_c: float = f_to_c(95)
    shade_index_c: float = f_to_c(80)
    rest_index_c: float = f_to_c(90)
    high_index_c: float = f_to_c(100)
    chill_c: float = f_to_c(32)
    work_watts: float = 300.0


@dataclass(frozen=True, kw_only=True)
class Heat:
    """A hot hour, Celsius: ``index_c`` is in shade, None where the humidity is unknown.

    ``wbgt_c`` is the estimate a place that goes by it was judged by, ``wbgt_shade_c`` the same in shade.

    Rest is ``rest_minutes`` in every ``every_minutes``, nought where none is asked for; ``high`` asks for people
    who watch one another.
    """

    air_c: float
    index_c: float | None
    rest_minutes: int
    every_minutes: int
    high: bool
    wbgt_c: float | None = None
    wbgt_shade_c: float | None = None


@dataclass(frozen=True, kw_only=True)
class Cold:
    """A cold hour, Celsius; ``chill_c`` is None where the wind is unknown."""

    air_c: float
    chill_c: float | None


def heat_index_c(air_c: float, rh_pct: float) -> float:
    """Heat index in shade, Celsius; full sun may add up to 15 F (US National Weather Service's chart)."""
    return f_to_c(air.heat_index_f(c_to_f(air_c), rh_pct))


def wind_chill_c(air_c: float, wind_ms: float) -> float | None:
    """Wind chill, Celsius, by the US National Weather Service; None where its formula does not apply."""
    found = air.wind_chill_f(c_to_f(air_c), ms_to_mph(wind_ms))
    return None if found is None else f_to_c(found)


def heat(
    air_c: float, rh_pct: float | None, limits: Strain, rule: str = "stricter"
) -> Heat | None:
    """What an hour's heat asks for; None where it is below every limit. Unknown humidity is no reprieve.

    ``rule`` is what a place goes by: the ``air`` temperature, the heat ``index``, the ``stricter`` of both, or
    ``wbgt`` as it is estimated. By the index alone, air of unknown humidity counts as an index that high at least;
    by WBGT it counts as saturated. NaN is unknown.

    Raises:
        ValueError: there is no such rule, or the air is not known.
    """
    _known(air_c)
    rh_pct = _or_none(rh_pct)
    if rule not in RULES:
        raise ValueError(f"Heat is judged by one of {', '.join(RULES)}, not {rule}.")
    if rule == "wbgt":
        return _by_wbgt(air_c, rh_pct, limits)
    index_c = None if rh_pct is None else heat_index_c(air_c, rh_pct)
    felt_c = air_c if index_c is None else index_c
    by_air, by_index = rule != "index", rule != "air"
    if not (by_air and air_c > limits.shade_air_c) and not (
        by_index and felt_c >= limits.shade_index_c
    ):
        return None
    minutes, every = _rest(
        air_c if by_air else -math.inf, felt_c if by_index else -math.inf, limits
    )
    return Heat(
        air_c=air_c,
        index_c=index_c,
        rest_minutes=minutes,
        every_minutes=every,
        high=(by_air and air_c >= limits.high_air_c)
        or (by_index and felt_c >= limits.high_index_c),
    )


def _by_wbgt(air_c: float, rh_pct: float | None, limits: Strain) -> Heat | None:
    """Water and shade from the alert limit on; rest of 15 min in every hour, an assumption, from the exposure limit."""
    rh = 100.0 if rh_pct is None else rh_pct
    found, (alert, most) = (
        wet_bulb.estimate_c(air_c, rh),
        wet_bulb.limits_c(limits.work_watts),
    )
    if found < alert:
        return None
    return Heat(
        air_c=air_c,
        index_c=None if rh_pct is None else heat_index_c(air_c, rh_pct),
        rest_minutes=15 if found >= most else 0,
        every_minutes=60,
        high=found >= most,
        wbgt_c=found,
        wbgt_shade_c=wet_bulb.shade_c(air_c, rh),
    )


def cold(air_c: float, wind_ms: float | None, limits: Strain) -> Cold | None:
    """What an hour's cold asks for; None where it is above the limit even in the wind there may be. NaN is unknown.

    Raises:
        ValueError: the air is not known.
    """
    _known(air_c)
    wind_ms = _or_none(wind_ms)
    chill_c = wind_chill_c(air_c, _STRONGEST_MS if wind_ms is None else wind_ms)
    felt_c = air_c if chill_c is None else chill_c
    if felt_c > limits.chill_c:
        return None
    return Cold(air_c=air_c, chill_c=None if wind_ms is None else felt_c)


def _known(air_c: float) -> None:
    if math.isnan(air_c):
        raise ValueError("Heat and cold are judged where the air is known.")


def _or_none(number: float | None) -> float | None:
    return None if number is None or math.isnan(number) else number


def _rest(air_c: float, index_c: float, limits: Strain) -> tuple[int, int]:
    """The most rest that any limit passed asks for, minutes in so many minutes."""
    asked = [(0, 60)]
    asked += [(10, 60)] if air_c >= limits.rest_air_c else []
    asked += [(10, 120)] if index_c >= limits.rest_index_c else []
    asked += [(15, 60)] if index_c >= limits.high_index_c else []
    return max(asked, key=lambda rest: rest[0] / rest[1])
