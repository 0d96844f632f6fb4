"""The demo's one-part and two-part sheets and its skies, as the trade's tests use them."""

import csv
from datetime import datetime, timedelta
from pathlib import Path

from dispatch.trade.product import Sheet
from dispatch.trade.sky import Site, Sky, SkyHour
from dispatch.trade.units import df_to_dk, f_to_c, inch_to_mm, mph_to_ms

ZONE = "America/New_York"
WEATHER = Path(__file__).parents[2] / "fixtures" / "demo" / "weather"
SITE = Site(lat=44.10, lon=-69.10, zone=ZONE)

ONE_PART = Sheet(
    name="Lanternglass One",
    kind="one-part",
    air_min_c=f_to_c(55),
    air_max_c=f_to_c(88),
    surface_min_c=f_to_c(55),
    surface_max_c=f_to_c(95),
    rh_max_pct=82,
    spread_min_k=df_to_dk(5),
    wind_max_ms=mph_to_ms(10),
    gust_max_ms=mph_to_ms(14),
    screened_wind_max_ms=mph_to_ms(13),
    screened_gust_max_ms=mph_to_ms(18),
    flash_ref_minutes=25,
    recoat_latest_ref_h=6,
    rain_safe_ref_h=4,
    sandable_ref_h=14,
    cure_min_c=f_to_c(50),
)
TWO_PART = Sheet(
    name="Wrackline Two",
    kind="two-part",
    air_min_c=f_to_c(50),
    air_max_c=f_to_c(90),
    surface_min_c=f_to_c(50),
    surface_max_c=f_to_c(95),
    rh_max_pct=85,
    spread_min_k=df_to_dk(5),
    wind_max_ms=mph_to_ms(8),
    gust_max_ms=mph_to_ms(12),
    screened_wind_max_ms=mph_to_ms(12),
    screened_gust_max_ms=mph_to_ms(16),
    flash_ref_minutes=25,
    recoat_latest_ref_h=24,
    rain_safe_ref_h=6,
    sandable_ref_h=16,
    cure_min_c=f_to_c(45),
    pot_life_ref_h=3,
)


def sky(name: str, issued_at: datetime) -> Sky:
    """One of the demo week's skies."""
    with (WEATHER / f"{name}.csv").open(newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return Sky(hours=tuple(_hour(row) for row in rows), issued_at=issued_at)


def _hour(row: dict[str, str]) -> SkyHour:
    return SkyHour(
        at=datetime.fromisoformat(row["time"]),
        air_c=f_to_c(float(row["air_f"])),
        dew_c=f_to_c(float(row["dew_f"])),
        rh_pct=float(row["rh_pct"]),
        wind_ms=mph_to_ms(float(row["wind_mph"])),
        gust_ms=mph_to_ms(float(row["gust_mph"])),
        from_deg=float(row["from_deg"]),
        cloud_pct=float(row["cloud_pct"]),
        rain_mm=inch_to_mm(float(row["rain_in"])),
        rain_prob_pct=float(row["rain_prob_pct"]),
        fog=float(row["fog"]),
    )


def near(moment: datetime | None, wanted: datetime, minutes: float = 10) -> bool:
    """Whether a moment lies within so many minutes of the wanted one."""
    return moment is not None and abs(moment - wanted) <= timedelta(minutes=minutes)
