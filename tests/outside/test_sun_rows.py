"""The sun's own series against rows that no other file holds: each with its source and how it was verified."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import shade, sun
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Site

HORIZON_DEG = -50 / 60
ANNAPOLIS = (38.9784, -76.4922)
MIAMI = (25.7617, -80.1918)
CAPE_MAY = (38.9, -74.9)


def crossing(
    place: tuple[float, float], near: float, *, falls: bool = False, noon: bool = False
) -> float:
    """The Unix second near a moment at which the sun rises, sets or stands in the south."""
    seconds = np.arange(near - 1200, near + 1200)
    azimuth, elevation = sun.angles(*place, seconds)
    past = azimuth >= 180 if noon else elevation >= HORIZON_DEG
    return float(seconds[np.argmax(past != falls)])


# Computed with skyfield (JPL ephemeris), no printed table found; rises and noons of these days stand in
# tables/sun_2027.csv. Cape May's noon: US Naval Observatory output in a copy, read on the page.
@pytest.mark.parametrize(
    ("place", "local", "noon"),
    [
        (ANNAPOLIS, "2027-06-21T20:34:58-04:00", False),
        (ANNAPOLIS, "2027-12-21T16:46:54-05:00", False),
        (MIAMI, "2027-06-21T20:15:04-04:00", False),
        (MIAMI, "2027-12-21T17:34:42-05:00", False),
        (CAPE_MAY, "2002-03-20T12:07:00-05:00", True),
    ],
)
def test_sets_and_noon(place: tuple[float, float], local: str, *, noon: bool) -> None:
    told = datetime.fromisoformat(local).timestamp()
    found = crossing(place, told, falls=not noon, noon=noon)
    assert found == pytest.approx(told, abs=60)


# The NOAA solar calculation sheet's short method, read on the page and worked through: Annapolis on
# 21 June 2027. Its equation of time and declination follow from noon and from the height at noon.
def test_the_short_methods_day() -> None:
    noon = crossing(
        ANNAPOLIS, datetime(2027, 6, 21, 17, 7, 18, tzinfo=UTC).timestamp(), noon=True
    )
    assert noon % 86400 / 60 == pytest.approx(17 * 60 + 7.3, abs=1)
    equation_minutes = 720 - 4 * ANNAPOLIS[1] - noon % 86400 / 60
    assert equation_minutes == pytest.approx(-1.33, abs=1)
    height = sun.angles(*ANNAPOLIS, np.array([noon]))[1][0]
    assert height - 90 + ANNAPOLIS[0] == pytest.approx(23.45, abs=0.03)


# Computed with skyfield's almanac. Seen from the pole the sun's height is its declination; the series is good
# to 0.01 degrees, which the sun takes a quarter of an hour to move along its path.
@pytest.mark.parametrize(
    "told", ["2027-03-20T20:24:41", "2027-09-23T06:01:43"], ids=["spring", "autumn"]
)
def test_equinoxes(told: str) -> None:
    moment = datetime.fromisoformat(told).replace(tzinfo=UTC).timestamp()
    seconds = moment + np.arange(-7200, 7200)
    heights = sun.angles(90, 0, seconds)[1]
    found = seconds[np.argmin(np.abs(heights))]
    assert found == pytest.approx(moment, abs=900)


@pytest.mark.parametrize(
    ("told", "sign"), [("2027-06-21T14:10:50", 1), ("2027-12-22T02:42:10", -1)]
)
def test_solstices(told: str, sign: int) -> None:
    moment = datetime.fromisoformat(told).replace(tzinfo=UTC).timestamp()
    seconds = moment + np.arange(-86400, 86400)
    heights = sun.angles(90, 0, seconds)[1] * sign
    assert seconds[np.argmax(heights)] == pytest.approx(moment, abs=900)


# Duffie and Beckman, example 1.6.1 with the latitude varied to 38.54 N, read on the page: 13 February, 10:30
# by the sun, slope 45 degrees, 15 degrees west of south: 33.7 degrees between sun and normal.
def test_a_slope_on_a_february_morning() -> None:
    place = (38.54, 0.0)
    noon = crossing(
        place, datetime(2026, 2, 13, 12, 14, tzinfo=UTC).timestamp(), noon=True
    )
    morning = np.array([noon - timedelta(minutes=90).total_seconds()])
    azimuth, elevation = sun.angles(*place, morning)
    cosine = shade.cos_incidence(azimuth, elevation, 195, -45)[0]
    assert np.degrees(np.arccos(cosine)) == pytest.approx(33.7, abs=0.2)


# From the geometry: a boat turned end for end has her sides exchanged, flare and bow panels included only
# where the panel is the main one; for an upright side exactly one of the two is lit.
@pytest.mark.parametrize("heading", [0, 37, 90, 200, 284.340241])
def test_a_boat_turned_end_for_end_exchanges_her_sides(heading: float) -> None:
    azimuth, elevation = sun.angles(
        *ANNAPOLIS, 1_813_000_000 + 600.0 * np.arange(10_000)
    )
    for flare in (0.0, 12.0):
        port = shade.cos_incidence(azimuth, elevation, heading - 90, flare)
        starboard = shade.cos_incidence(azimuth, elevation, heading + 180 + 90, flare)
        assert port == pytest.approx(starboard, abs=1e-12)


# From the geometry: an upright hull with no bow panel would have just one side lit; flare and bow panels only
# take the sun off both sides or put it on both where it grazes them. So where the sun stands 30 degrees off the
# keel line and lower than the flare can hide, exactly one side is lit.
@settings(max_examples=150, deadline=None)
@given(
    heading=st.floats(0, 359.9),
    lat=st.floats(-60, 60),
    hours=st.integers(0, 3 * 8766),
    flare=st.floats(0, 15),
)
def test_exactly_one_side_is_lit_unless_the_sun_grazes(
    heading: float, lat: float, hours: int, flare: float
) -> None:
    site, unix = Site(lat=lat, lon=10.0, zone="UTC"), 1_798_761_600.0 + 3600 * hours
    moment = np.array([unix])
    azimuth, height = sun.angles(lat, 10.0, moment)
    hull = Hull(heading_true_deg=heading, flare_deg=flare)
    port, starboard = (
        bool(shade.lit(site, hull, side, moment)[0]) for side in ("port", "starboard")
    )
    off = abs((azimuth[0] - heading + 90) % 180 - 90)
    if height[0] <= 0:
        assert not port
        assert not starboard
    elif off > 30 and height[0] < 50:
        assert port is not starboard
        assert port is bool((azimuth[0] - heading) % 360 > 180)
