"""What a rate or limit may be set to: a number that means something, and pairs the right way round."""

import math
from collections.abc import Iterator, Mapping

# By the unit at the end of a name; the longest ending that fits holds.
_BY_UNIT: Mapping[str, tuple[float, float]] = {
    "_pct": (0, 100),
    "_deg": (0, 180),
    "_c": (-60, 60),
    "_k": (0, 20),
    "_ms": (0, 60),
    "_m_per_ms": (0, 1000),
    "_m": (0, 1000),
    "_mm": (0, 500),
    "_ft": (1, 200),
    "_minutes": (0, 2880),
    "_hours": (0, 240),
    "_cents": (0, 100_000_000),
    "_factor": (1, 20),
}
_BY_NAME: Mapping[str, tuple[float, float]] = {
    "labour.long_boat_power": (0, 2),
    "labour.worth_of_third": (0.1, 1),
    "labour.worth_of_fourth": (0.1, 1),
    "coverage.electric_waste": (1, 5),
    "coverage.oz_per_ft2_coat": (0.001, 10),
    "coverage.rail_width_ft": (0.01, 10),
}
_OTHERWISE = (0.0, 20.0)
_NOT_ABOVE = (
    ("air_min_c", "air_max_c"),
    ("surface_min_c", "surface_max_c"),
    ("rh_min_pct", "rh_max_pct"),
    ("wind_max_ms", "gust_max_ms"),
    ("screened_wind_max_ms", "screened_gust_max_ms"),
    ("rain_margin_least_minutes", "rain_margin_minutes"),
    ("worth_of_fourth", "worth_of_third"),
)


def fault(
    name: str, value: float, standing: Mapping[str, float], default: float
) -> str:
    """What is wrong with a new value, in a sentence; empty where nothing is.

    ``standing`` holds every setting in force. The default is always allowed by itself: it may be a
    number so large or small that it limits nothing.
    """
    if not math.isfinite(value):
        return f"{name} must be a number."
    least, most = _range(name)
    if value != default and not least <= value <= most:
        return f"{name} must lie between {least:g} and {most:g}; its default is {default:g}."
    return next(_crossed(name, {**standing, name: value}), "")


def _range(name: str) -> tuple[float, float]:
    if name in _BY_NAME:
        return _BY_NAME[name]
    fits = [unit for unit in _BY_UNIT if name.endswith(unit)]
    return _BY_UNIT[max(fits, key=len)] if fits else _OTHERWISE


def _crossed(name: str, values: Mapping[str, float]) -> Iterator[str]:
    """A sentence for each pair that the new value would turn round."""
    group, _, own = name.rpartition(".")
    for low, high in _NOT_ABOVE:
        one, other = f"{group}.{low}", f"{group}.{high}"
        if own in (low, high) and values[one] > values[other]:
            yield f"{one} ({values[one]:g}) must not be above {other} ({values[other]:g}). Change the other first."
