"""Moist air: dew point, the hull's temperature, what heat and cold feel like."""

import math
from dataclasses import dataclass

from dispatch.trade.units import df_to_dk

# Magnus over water: Lawrence 2005, Bull. Amer. Meteor. Soc. 86(2), 225.
_A, _B_C, _AT_FREEZING_HPA = 17.625, 243.04, 6.1094


@dataclass(frozen=True, kw_only=True)
class SurfaceModel:
    """How far a hull's surface lies from the air, in kelvin, where nobody has read it."""

    clear_night_k: float = df_to_dk(-3)
    white_sun_k: float = df_to_dk(3)
    dark_sun_k: float = df_to_dk(12)
    clear_below_cloud_pct: float = 40.0


def dew_point_c(air_c: float, rh_pct: float) -> float:
    """Dew point in Celsius by Magnus.

    Raises:
        ValueError: the humidity is not above 0 and up to 100.
    """
    if not 0 < rh_pct <= 100:
        raise ValueError(
            f"Relative humidity lies above 0 and up to 100 %, not {rh_pct:g}."
        )
    gamma = math.log(rh_pct / 100) + _A * air_c / (_B_C + air_c)
    return _B_C * gamma / (_A - gamma)


def saturation_hpa(air_c: float) -> float:
    """Pressure of water vapour in saturated air over water, hectopascal, by Magnus."""
    return _AT_FREEZING_HPA * math.exp(_A * air_c / (_B_C + air_c))


def rh_pct(air_c: float, dew_c: float) -> float:
    """Relative humidity in percent from air and dew point, capped at 100."""
    exponent = _A * dew_c / (_B_C + dew_c) - _A * air_c / (_B_C + air_c)
    # In this order what is not a number stays so.
    return min(100 * math.exp(exponent), 100.0)


def surface_c(
    air_c: float,
    *,
    sun_up: bool,
    lit: bool,
    dark: bool,
    cloud_pct: float | None,
    model: SurfaceModel,
) -> float:
    """The hull's temperature by the model; unknown cloud at night counts as clear, the colder case."""
    if not sun_up:
        clear = cloud_pct is None or cloud_pct < model.clear_below_cloud_pct
        return air_c + (model.clear_night_k if clear else 0.0)
    if lit:
        return air_c + (model.dark_sun_k if dark else model.white_sun_k)
    return air_c


def heat_index_f(air_f: float, rh: float) -> float:
    """Heat index by the equation page of the US National Weather Service, adjustments included."""
    simple = 0.5 * (air_f + 61 + (air_f - 68) * 1.2 + 0.094 * rh)
    if simple < 80:
        return simple
    return rothfusz_f(air_f, rh) + _adjustment_f(air_f, rh)


def rothfusz_f(air_f: float, rh: float) -> float:
    """The plain Rothfusz regression, which the printed chart shows."""
    return (
        -42.379
        + 2.04901523 * air_f
        + 10.14333127 * rh
        - 0.22475541 * air_f * rh
        - 0.00683783 * air_f**2
        - 0.05481717 * rh**2
        + 0.00122874 * air_f**2 * rh
        + 0.00085282 * air_f * rh**2
        - 0.00000199 * air_f**2 * rh**2
    )


def _adjustment_f(air_f: float, rh: float) -> float:
    if rh < 13 and 80 <= air_f <= 112:
        return -((13 - rh) / 4) * math.sqrt((17 - abs(air_f - 95)) / 17)
    if rh > 85 and 80 <= air_f <= 87:
        return ((rh - 85) / 10) * ((87 - air_f) / 5)
    return 0.0


def wind_chill_f(air_f: float, wind_mph: float) -> float | None:
    """Wind chill by the US National Weather Service's 2001 formula; None where it does not apply."""
    if air_f > 50 or wind_mph <= 3:
        return None
    speed = float(wind_mph**0.16)
    return 35.74 + 0.6215 * air_f - 35.75 * speed + 0.4275 * air_f * speed
