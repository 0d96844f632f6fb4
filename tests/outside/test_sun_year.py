"""The sun's own series against sunrise and noon of 2027, and the hours at which a hull's sides change.

tables/sun_2027.csv: 27 days at Annapolis, Miami and Seattle, computed with the skyfield library (JPL
ephemeris); its other columns, by pvlib and by the NOAA formulas, are kept beside it to show their spread.
Sunrise is at a zenith of 90 degrees 50 minutes.
"""

import csv
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
import skyfield_data
from hypothesis import given, settings
from hypothesis import strategies as st
from skyfield import almanac
from skyfield.api import load, load_file, wgs84

from dispatch.trade import shade, sun

with (Path(__file__).parent / "tables" / "sun_2027.csv").open(newline="") as file:
    ROWS = list(csv.DictReader(file))

HORIZON_DEG = -50 / 60
ANNAPOLIS = (38.9784, -76.4922)
NEW_YORK = ZoneInfo("America/New_York")
EPHEMERIS = load_file(Path(skyfield_data.__file__).parent / "data" / "de421.bsp")
TIMESCALE = load.timescale(builtin=True)


def told(row: dict[str, str]) -> float:
    clock = datetime.fromisoformat(f"{row['date']}T{row['skyfield']}")
    return clock.replace(tzinfo=ZoneInfo(row["tz"])).timestamp()


def height(row: dict[str, str], unix: sun.Floats) -> sun.Floats:
    """What passes through zero at the row's event."""
    azimuth, elevation = sun.angles(float(row["lat"]), float(row["lon"]), unix)
    if row["event"] == "noon":
        return azimuth - 180
    return elevation - HORIZON_DEG


@pytest.mark.parametrize(
    "row", ROWS, ids=[f"{r['place']}-{r['date']}-{r['event']}" for r in ROWS]
)
def test_sunrise_and_noon_are_within_half_a_minute(row: dict[str, str]) -> None:
    seconds = np.arange(told(row) - 600, told(row) + 600)
    passed = seconds[np.argmax(height(row, seconds) >= 0)]
    assert passed == pytest.approx(told(row), abs=30)


# The table leaves out the sunsets: computed here with skyfield's almanac, at the same zenith, for the same days.
@pytest.mark.parametrize(
    "row",
    [row for row in ROWS if row["event"] == "sunrise"],
    ids=lambda row: f"{row['place']}-{row['date']}",
)
def test_sunset_is_within_half_a_minute(row: dict[str, str]) -> None:
    lat, lon, rise = float(row["lat"]), float(row["lon"]), told(row)
    day = [
        TIMESCALE.from_datetime(datetime.fromtimestamp(s, UTC))
        for s in (rise + 3600, rise + 72000)
    ]
    observer = EPHEMERIS["earth"] + wgs84.latlon(lat, lon)
    found, _ = almanac.find_settings(
        observer, EPHEMERIS["sun"], *day, horizon_degrees=HORIZON_DEG
    )
    set_at = found[0].utc_datetime().timestamp()
    seconds = np.arange(set_at - 600, set_at + 600)
    passed = seconds[np.argmax(sun.angles(lat, lon, seconds)[1] < HORIZON_DEG)]
    assert passed == pytest.approx(set_at, abs=30)


# Published to the minute or the second; a minute's tolerance is that of the printed tables.
# Golden: NREL/TP-560-34302 (Reda and Andreas), appendix A.5, seen in its tester (its sunset, 17:20:19, is 88 s
# later than skyfield's, which the series meets to the second, so it is left out). Wayne: the worked example of
# Almanac for Computers 1990 (US Naval Observatory), read on the page. Annapolis: a newspaper's sky column
# (a program's output), read on the page. Cape May: US Naval Observatory output in a copy, read on the page.
@pytest.mark.parametrize(
    ("lat", "lon", "local", "rises"),
    [
        (39.742476, -105.1786, "2003-10-17T06:12:43-07:00", True),
        (40.9, -74.3, "1990-06-25T05:26:00-04:00", True),
        (38.9729, -76.5012, "2007-01-05T07:25:16-05:00", True),
        (38.9, -74.9, "2002-03-20T06:04:00-05:00", True),
        (38.9, -74.9, "2002-03-20T18:12:00-05:00", False),
    ],
)
def test_published_rise_and_set(
    lat: float, lon: float, local: str, *, rises: bool
) -> None:
    printed = datetime.fromisoformat(local).timestamp()
    seconds = np.arange(printed - 600, printed + 600)
    up = sun.angles(lat, lon, seconds)[1] >= HORIZON_DEG
    assert bool(up[-1]) is rises
    crossing = seconds[np.argmax(up == rises)]
    assert crossing == pytest.approx(printed, abs=60)


# Computed with pvlib by a scan of every minute: bow 090 has starboard facing south; bow 000 changes sides at noon.
@pytest.mark.parametrize(
    ("day", "normal", "changes"),
    [
        ("2027-06-21", 180, ["09:18", "16:59"]),
        ("2027-06-21", 90, ["13:08"]),
        ("2027-06-21", 270, ["13:08"]),
        ("2027-12-21", 0, []),
        ("2027-12-21", 180, []),
    ],
)
def test_an_upright_side_changes_at_the_computed_minutes(
    day: str, normal: float, changes: list[str]
) -> None:
    midnight = datetime.fromisoformat(day).replace(tzinfo=NEW_YORK)
    unix = midnight.timestamp() + 60.0 * np.arange(24 * 60)
    azimuth, elevation = sun.angles(*ANNAPOLIS, unix)
    up = elevation > 0
    lit = shade.cos_incidence(azimuth, elevation, normal, 0.0) > 0
    day_minutes = np.flatnonzero(up)
    found = [b for a, b in pairwise(day_minutes) if lit[a] != lit[b]]
    wanted = [
        (datetime.fromisoformat(f"{day}T{clock}") - datetime.fromisoformat(day))
        // timedelta(minutes=1)
        for clock in changes
    ]
    assert len(found) == len(wanted)
    assert all(abs(a - b) <= 2 for a, b in zip(found, wanted, strict=True))
    if not changes:
        assert bool(lit[up].all()) is (normal == 180)


# The skyfield library on the JPL ephemeris DE421, airless. The series claims 0.01 degrees; azimuth is
# compared as an arc on the sky, for it means nothing overhead.
@settings(max_examples=60, deadline=None)
@given(
    lat=st.floats(-66, 66),
    lon=st.floats(-180, 180),
    hours=st.integers(0, 12 * 8766),
)
def test_series_and_position_agree_with_an_ephemeris(
    lat: float, lon: float, hours: int
) -> None:
    moment = datetime(2024, 1, 1, tzinfo=UTC) + timedelta(hours=hours)
    azimuth, elevation = sun.series(lat, lon, [moment])
    place = EPHEMERIS["earth"] + wgs84.latlon(lat, lon)
    seen = place.at(TIMESCALE.from_datetime(moment)).observe(EPHEMERIS["sun"])
    altitude, bearing, _ = seen.apparent().altaz()
    arc = (azimuth[0] - bearing.degrees + 180) % 360 - 180
    assert sun.position(lat, lon, moment)[1] == pytest.approx(
        altitude.degrees, abs=0.02
    )
    assert elevation[0] == pytest.approx(altitude.degrees, abs=0.02)
    assert arc * np.cos(np.radians(altitude.degrees)) == pytest.approx(0, abs=0.02)
