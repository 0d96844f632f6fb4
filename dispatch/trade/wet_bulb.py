"""Wet bulb and WBGT, the heat stress of a body that sweats: estimates from air and humidity, never a measurement."""

import math

from dispatch.trade import air

_SEA_LEVEL_HPA = 1013.25
_DEEPEST_K, _HALVINGS = 40.0, 40


def wet_bulb_c(air_c: float, rh_pct: float) -> float:
    """Wet bulb in moving air near sea level, Celsius: where air that takes up water until it is full comes to rest.

    The energy balance of moist air (ASHRAE Handbook, Fundamentals, Psychrometrics), over water.

    Raises:
        ValueError: the humidity is not from 0 to 100.
    """
    if not 0 <= rh_pct <= 100:
        raise ValueError(f"Relative humidity lies from 0 to 100 %, not {rh_pct:g}.")
    held = _humidity_ratio(rh_pct / 100 * air.saturation_hpa(air_c))
    low, high = air_c - _DEEPEST_K, air_c
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _held_by(air_c, middle) < held else (low, middle)
    return high


def _held_by(air_c: float, wet_c: float) -> float:
    """The humidity ratio of air that has a wet bulb."""
    full = _humidity_ratio(air.saturation_hpa(wet_c))
    warmed = (2501 - 2.326 * wet_c) * full - 1.006 * (air_c - wet_c)
    return warmed / (2501 + 1.86 * air_c - 4.186 * wet_c)


def _humidity_ratio(vapour_hpa: float) -> float:
    return 0.621945 * vapour_hpa / (_SEA_LEVEL_HPA - vapour_hpa)


def wbgt_c(wet_bulb_c: float, globe_c: float, air_c: float) -> float:
    """WBGT outdoors, Celsius: 0.7 natural wet bulb + 0.2 globe + 0.1 air (ISO 7243; NIOSH 2016-106).

    Indoors, and where no sun falls, the globe stands for the air as well: 0.7 and 0.3.
    """
    return 0.7 * wet_bulb_c + 0.2 * globe_c + 0.1 * air_c


def shade_c(air_c: float, rh_pct: float) -> float:
    """WBGT in shade, estimated: the globe is as warm as the air, the wet bulb is one in moving air."""
    return wbgt_c(wet_bulb_c(air_c, rh_pct), air_c, air_c)


def estimate_c(air_c: float, rh_pct: float) -> float:
    """WBGT estimated for moderate sun and light wind: 0.567 air + 0.393 vapour pressure in hPa + 3.94.

    Australia's Bureau of Meteorology; full sun in still air is hotter, clouds and wind are cooler.
    """
    return 0.567 * air_c + 0.393 * rh_pct / 100 * air.saturation_hpa(air_c) + 3.94


def limits_c(watts: float) -> tuple[float, float]:
    """WBGT from which work of so many watts asks for care: of people not used to heat, and of those who are.

    The recommended alert limit 59.9 - 14.1 log10 M and exposure limit 56.7 - 11.5 log10 M of NIOSH 2016-106.

    Raises:
        ValueError: no work takes so many watts.
    """
    if not watts > 0:
        raise ValueError(f"Work takes more than 0 W, not {watts:g}.")
    size = math.log10(watts)
    return 59.9 - 14.1 * size, 56.7 - 11.5 * size
