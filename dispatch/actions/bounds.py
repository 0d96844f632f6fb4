"""What a rate or limit may be set to: a number that means something, and pairs the right way round."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

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
    "_days": (1, 365),
    "_cents": (0, 100_000_000),
    "_factor": (1, 20),
}
_BY_NAME: Mapping[str, tuple[float, float]] = {
    "labour.long_boat_power": (0, 2),
    "labour.worth_of_third": (0.1, 1),
    "labour.worth_of_fourth": (0.1, 1),
    "coverage.electric_waste": (1, 5),
    "coverage.oz_per_ft2_coat": (0.001, 10),
    # Nobody may go below these: fifteen feet of drift, an hour before rain, half an hour's break by the sixth hour.
    "limits.drift_base_m": (4.572, 1000),
    "limits.water_clear_m": (15.24, 1000),
    "limits.rain_margin_least_minutes": (60, 2880),
    "day.break_minutes": (30, 240),
    "day.break_after_minutes": (60, 360),
    "day.longest_visit_minutes": (60, 900),
    "day.load_out_minutes": (0, 120),
    "day.pack_up_minutes": (0, 120),
    # Nor above a hood's hours, nor below the rest between days, the time and the distance to two-part.
    "shifts.hood_minutes": (30, 270),
    "shifts.gap_minutes": (600, 1440),
    "shifts.site_minutes": (240, 960),
    "shifts.reentry_minutes": (30, 1440),
    "shifts.bystander_m": (7.62, 1000),
    "limits.drift_electric": (1, 20),
    "limits.drift_screened": (0.1, 1),
    # Nobody is written to before eight or after nine by their own clock; of wet film, before seven.
    "customers.from_clock": (480, 840),
    "customers.until_clock": (900, 1260),
    "customers.wet_from_clock": (420, 840),
    "customers.wet_until_clock": (900, 1260),
    "customers.ahead_clock": (480, 1230),
    "customers.eve_clock": (480, 1230),
    "customers.eve_wait_minutes": (0, 180),
    "customers.morning_clock": (480, 840),
    "customers.yearly_days": (90, 1100),
    "crew.cover_told": (0, 1),
    "crew.owner_told": (0, 1),
    "crew.gate_wait_minutes": (1, 120),
    "supply.cutoff_clock": (360, 1439),
    "strain.work_watts": (100, 600),
    "board.full_day_pct": (10, 100),
    "board.full_late_day_pct": (50, 200),
    "half_day.count": (0, 10),
    "half_day.rush_count": (0, 10),
    "half_day.minutes": (60, 600),
    "prices.free_km": (0, 1000),
    "prices.cents_per_km": (0, 5000),
    "promises.near_days": (0, 30),
    "promises.far_days": (0, 30),
    "travel.circuity": (1, 5),
    "surface.clear_night_k": (-20, 0),
    "travel.km_per_hour": (5, 130),
}
# Where neither the name nor a unit says: a factor of nought would make work vanish; waits are in minutes.
_BY_GROUP: Mapping[str, tuple[float, float]] = {
    "labour": (0.1, 20),
    "shape": (0.1, 20),
    "prices": (0.1, 20),
    "waits": (15, 20160),
    "learnt": (0.6, 2),
}
_OTHERWISE = (0.0, 20.0)
_NOT_ABOVE = (
    ("air_min_c", "air_max_c"),
    ("surface_min_c", "surface_max_c"),
    ("rh_min_pct", "rh_max_pct"),
    ("wind_max_ms", "gust_max_ms"),
    ("screened_wind_max_ms", "screened_gust_max_ms"),
    ("shade_air_c", "rest_air_c"),
    ("rest_air_c", "high_air_c"),
    ("shade_index_c", "rest_index_c"),
    ("rest_index_c", "high_index_c"),
    ("rain_margin_least_minutes", "rain_margin_minutes"),
    ("worth_of_fourth", "worth_of_third"),
)


@dataclass(frozen=True, kw_only=True)
class Fault:
    """What is wrong with a value: no number, out of its range, or ``low`` above ``high`` (names of settings)."""

    least: float | None = None
    most: float | None = None
    low: str = ""
    high: str = ""


def check(
    name: str, value: float, standing: Mapping[str, float], default: float
) -> Fault | None:
    """What is wrong with a new value, as a value; None where nothing is.

    ``standing`` holds every setting as it will stand. The default is always allowed by itself: it may
    be a number so large or small that it limits nothing.
    """
    least, most = span(name)
    if not math.isfinite(value) or (value != default and not least <= value <= most):
        return Fault(least=least, most=most)
    return next(_crossed(name, {**standing, name: value}), None)


def fault(
    name: str, value: float, standing: Mapping[str, float], default: float
) -> str:
    """What is wrong with a new value, in a sentence in SI; empty where nothing is."""
    found = check(name, value, standing, default)
    if found is None:
        return ""
    if not math.isfinite(value):
        return f"{name} must be a number."
    if found.low:
        values = {**standing, name: value}
        return (
            f"{found.low} ({values[found.low]:g}) must not be above {found.high} ({values[found.high]:g}). "
            "Change the other first."
        )
    return f"{name} must lie between {found.least:g} and {found.most:g}; its default is {default:g}."


def span(name: str) -> tuple[float, float]:
    """The least and the most a setting may be, in its own unit."""
    if name in _BY_NAME:
        return _BY_NAME[name]
    fits = [unit for unit in _BY_UNIT if name.endswith(unit)]
    if fits:
        return _BY_UNIT[max(fits, key=len)]
    return _BY_GROUP.get(name.partition(".")[0], _OTHERWISE)


def _crossed(name: str, values: Mapping[str, float]) -> Iterator[Fault]:
    """A fault for each pair that the new value would turn round."""
    group, _, own = name.rpartition(".")
    for low, high in _NOT_ABOVE:
        one, other = f"{group}.{low}", f"{group}.{high}"
        if own in (low, high) and values[one] > values[other]:
            yield Fault(low=one, high=other)
