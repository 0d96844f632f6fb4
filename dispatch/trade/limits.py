"""What each family of work asks of the sky, where no product sheet says otherwise.

Spread of 5 F and humidity up to 85 % are common practice; the other numbers are assumptions to be edited.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from dispatch.trade.product import Sheet
from dispatch.trade.units import df_to_dk, f_to_c, ft_to_m, mph_to_ms

_NO_LIMIT = 1e6
# A forecast of some days says little more; wider margins would not make it say less.
_MOST_STRETCH = 3.0


@dataclass(frozen=True, kw_only=True)
class FamilyLimits:
    """The numbers one family of work must keep: Celsius, percent, kelvin, m/s, mm of rain in an hour.

    For ``dry_after_minutes`` after it nothing may wet the hull, as wax that haze has not come off yet.
    """

    air_min_c: float
    air_max_c: float = _NO_LIMIT
    surface_min_c: float = -_NO_LIMIT
    surface_max_c: float = _NO_LIMIT
    rh_min_pct: float = 0.0
    rh_max_pct: float = 100.0
    spread_min_k: float = -_NO_LIMIT
    wind_max_ms: float
    gust_max_ms: float
    screened_wind_max_ms: float
    screened_gust_max_ms: float
    rain_max_mm: float = 0.0
    dry_after_minutes: float = 0.0

    @property
    def asks_spread(self) -> bool:
        """Whether any spread is asked for, so that the dew point must be known."""
        return self.spread_min_k > -_NO_LIMIT

    @property
    def asks_humidity(self) -> bool:
        """Whether the humidity must be known."""
        return self.rh_min_pct > 0 or self.rh_max_pct < 100


@dataclass(frozen=True, kw_only=True)
class Limits:
    """Limits and margins that hold for every family.

    ``confidence_factor`` stretches the margin before rain, and nothing else, for film laid more than
    ``confidence_hours`` after the forecast was issued; beyond ``likely_hours`` an answer is only likely.
    A forecast older than ``fresh_hours`` when it is used, as when its source is down, has that margin and the
    range of a cure grow with its age, by as much again each ``age_doubles_hours``; past ``ask_hours`` nobody lays
    a two-part product by it without asking.
    A wait that hangs on warmth is planned long enough for ``wait_enough_pct`` of the hours in which it may lie.
    Nothing is sprayed within ``water_clear_m`` of open water: common practice of clean marinas.
    The owner may cut the margin before rain to ``rain_margin_least_minutes``. ``flare_deg`` is how far the
    top of a side leans out. What was read on a hull goes before the model for ``reading_hours``: about every
    four hours is how often US military painting practice has the weather measured (MIL-HDBK-1110, 9.6.6).
    """

    rain_prob_pct: float = 40.0
    rain_mm: float = 0.254
    rain_margin_minutes: float = 120.0
    rain_margin_least_minutes: float = 60.0
    confidence_hours: float = 24.0
    confidence_factor: float = 1.25
    likely_hours: float = 72.0
    fresh_hours: float = 6.0
    age_doubles_hours: float = 12.0
    ask_hours: float = 12.0
    reading_hours: float = 4.0
    shade_cloud_pct: float = 85.0
    flare_deg: float = 12.0
    dark_rest_minutes: float = 45.0
    white_rest_minutes: float = 20.0
    dry_minutes: float = 45.0
    wait_enough_pct: float = 50.0
    water_clear_m: float = ft_to_m(50)
    drift_base_m: float = ft_to_m(15)
    drift_m_per_ms: float = ft_to_m(3) / mph_to_ms(1)
    drift_free_gust_ms: float = mph_to_ms(3)
    drift_half_angle_deg: float = 45.0
    drift_electric: float = 1.5
    drift_screened: float = 0.35

    def stretch(self, age_hours: float) -> float:
        """By how much the margins of a forecast of an age grow: 1 while it is fresh, at most 3."""
        over = max(0.0, age_hours - self.fresh_hours)
        return min(_MOST_STRETCH, 1 + over / max(self.age_doubles_hours, 1.0))


def _wind(
    wind: float, gust: float, screened: tuple[float, float] | None = None
) -> dict[str, float]:
    behind = screened or (wind, gust)
    return {
        "wind_max_ms": mph_to_ms(wind),
        "gust_max_ms": mph_to_ms(gust),
        "screened_wind_max_ms": mph_to_ms(behind[0]),
        "screened_gust_max_ms": mph_to_ms(behind[1]),
    }


FAMILIES: Mapping[str, FamilyLimits] = MappingProxyType(
    {
        "wash": FamilyLimits(
            air_min_c=f_to_c(38),
            surface_min_c=f_to_c(34),
            rain_max_mm=2.5,
            **_wind(25, 32),
        ),
        "prep": FamilyLimits(
            air_min_c=f_to_c(45),
            rh_max_pct=92,
            spread_min_k=df_to_dk(2),
            **_wind(16, 22, (20, 26)),
        ),
        "gelcoat": FamilyLimits(
            air_min_c=f_to_c(60),
            air_max_c=f_to_c(90),
            surface_min_c=f_to_c(60),
            surface_max_c=f_to_c(95),
            rh_max_pct=85,
            spread_min_k=df_to_dk(5),
            **_wind(15, 20),
        ),
        "spray": FamilyLimits(
            air_min_c=f_to_c(55),
            air_max_c=f_to_c(88),
            surface_min_c=f_to_c(55),
            surface_max_c=f_to_c(95),
            rh_max_pct=82,
            spread_min_k=df_to_dk(5),
            **_wind(10, 14, (13, 18)),
        ),
        "wipe-on": FamilyLimits(
            air_min_c=f_to_c(50),
            air_max_c=f_to_c(82),
            surface_min_c=f_to_c(50),
            surface_max_c=f_to_c(85),
            rh_min_pct=35,
            rh_max_pct=75,
            spread_min_k=df_to_dk(5),
            **_wind(16, 22),
        ),
        "polish": FamilyLimits(
            air_min_c=f_to_c(45),
            air_max_c=f_to_c(90),
            surface_max_c=f_to_c(90),
            spread_min_k=df_to_dk(2),
            **_wind(18, 25),
        ),
        "wax": FamilyLimits(
            air_min_c=f_to_c(45),
            air_max_c=f_to_c(90),
            surface_max_c=f_to_c(90),
            spread_min_k=df_to_dk(2),
            dry_after_minutes=120.0,
            **_wind(18, 25),
        ),
        "letters": FamilyLimits(
            air_min_c=f_to_c(50),
            air_max_c=f_to_c(90),
            surface_max_c=f_to_c(95),
            spread_min_k=df_to_dk(2),
            **_wind(12, 12),
        ),
        "inside": FamilyLimits(
            air_min_c=f_to_c(40), rain_max_mm=_NO_LIMIT, **_wind(25, 32)
        ),
    }
)


def by_sheet(family: FamilyLimits, sheet: Sheet) -> FamilyLimits:
    """A family's limits with those that a product sheet sets over them."""
    return replace(
        family,
        air_min_c=sheet.air_min_c,
        air_max_c=sheet.air_max_c,
        surface_min_c=sheet.surface_min_c,
        surface_max_c=sheet.surface_max_c,
        rh_min_pct=sheet.rh_min_pct or 0.0,
        rh_max_pct=sheet.rh_max_pct,
        spread_min_k=sheet.spread_min_k,
        wind_max_ms=sheet.wind_max_ms,
        gust_max_ms=sheet.gust_max_ms,
        screened_wind_max_ms=sheet.screened_wind_max_ms or sheet.wind_max_ms,
        screened_gust_max_ms=sheet.screened_gust_max_ms or sheet.gust_max_ms,
    )


_STRICTNESS = (
    "any",
    "inside",
    "wash",
    "polish",
    "wax",
    "letters",
    "prep",
    "wipe-on",
    "gelcoat",
    "spray",
)


def strictest(families: list[str], *, sprays: bool) -> str:
    """The weather family that asks most of the sky among those of a visit's steps."""
    if sprays:
        return "spray"
    return max(families, key=_STRICTNESS.index, default="any")
