"""The sun and what it lights, against published worked examples and a reference library."""

from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import solarposition

from dispatch.trade import shade, sun

# NREL/TP-560-34302 (Reda and Andreas, rev. 2008), appendix A.5; read on the page and seen in its tester.
GOLDEN = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))
GOLDEN_PLACE = (39.742476, -105.1786)


def test_position_of_the_worked_example():
    azimuth, elevation = sun.position(*GOLDEN_PLACE, GOLDEN)
    assert azimuth == pytest.approx(194.340241, abs=0.01)
    assert elevation == pytest.approx(39.872046, abs=0.01)


def test_own_series_agrees_with_the_worked_example():
    azimuth, elevation = sun.series(*GOLDEN_PLACE, [GOLDEN])
    assert azimuth[0] == pytest.approx(194.340241, abs=0.01)
    assert elevation[0] == pytest.approx(39.872046, abs=0.01)


# Vertical side: cos(theta) = sin(zenith) cos(az - N). Duffie and Beckman eq. 1.6.3 at slope 90; computed.
@pytest.mark.parametrize(
    ("normal", "angle"),
    [(180, 41.9792), (90, 100.9553), (270, 79.0447), (284.340241, 90.0)],
)
def test_incidence_on_a_vertical_side(normal, angle):
    cosine = shade.cos_incidence(
        np.array([194.340241]), np.array([39.888378]), normal, 0.0
    )
    assert np.degrees(np.arccos(cosine[0])) == pytest.approx(angle, abs=0.02)


# NREL/TP-560-34302, the same example: slope 30 degrees, normal azimuth 170; seen in its tester. A panel that
# lies back by 60 degrees from upright is one whose top leans out by -60.
def test_incidence_on_a_leaning_panel():
    cosine = shade.cos_incidence(
        np.array([194.340241]), np.array([39.888378]), 170, -60.0
    )
    assert np.degrees(np.arccos(cosine[0])) == pytest.approx(25.187, abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(
    lat=st.floats(-66, 66),
    lon=st.floats(-180, 180),
    hours=st.integers(0, 15 * 8766),
)
def test_elevation_agrees_with_pvlib_within_a_twentieth_degree(lat, lon, hours):
    moment = datetime(2020, 1, 1, tzinfo=UTC) + timedelta(hours=hours)
    _, elevation = sun.series(lat, lon, [moment])
    reference = solarposition.spa_python(
        np.array([np.datetime64(moment.replace(tzinfo=None))]), lat, lon
    )
    assert elevation[0] == pytest.approx(reference["elevation"].iloc[0], abs=0.05)


@settings(max_examples=60, deadline=None)
@given(
    heading=st.floats(0, 359.9),
    azimuth=st.floats(0, 360),
    elevation=st.floats(1, 80),
)
def test_one_side_of_a_straight_hull_is_lit_unless_grazing(heading, azimuth, elevation):
    """Follows from the geometry: opposite normals have opposite cosines."""
    port, starboard = (
        shade.cos_incidence(
            np.array([azimuth]), np.array([elevation]), heading + turn, 0.0
        )[0]
        for turn in (-90, 90)
    )
    assert port == pytest.approx(-starboard, abs=1e-9)
