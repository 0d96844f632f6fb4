"""Distances over the ground, against geodesics on the ellipsoid, a sphere's own arithmetic, and road studies.

The house measures along a sphere of mean Earth radius and multiplies by a factor for roads, so a geodesic is
met to the half per cent by which a sphere differs from the ellipsoid, and a sphere to the metre.
"""

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.planner.travel import Roads, drive, great_circle_m

FLINDERS = (-(37 + 57 / 60 + 3.72030 / 3600), 144 + 25 / 60 + 29.52440 / 3600)
BUNINYONG = (-(37 + 39 / 60 + 10.15610 / 3600), 143 + 55 / 60 + 35.38390 / 3600)
MEAN_RADIUS_M = 6_371_008.8
SPHERE = 0.006


# Geodesics on the ellipsoid. Flinders Peak to Buninyong: Geoscience Australia's Vincenty example, read on the
# page and seen in test suites. JFK to LHR: GeographicLib's example inputs, read on the page, distance computed.
# Land's End to John o' Groats: the Veness test suite, seen. Quarter meridian: computed with GeographicLib.
@pytest.mark.parametrize(
    ("start", "end", "metres"),
    [
        (FLINDERS, BUNINYONG, 54_972.271),
        ((40.6, -73.8), (51.6, -0.5), 5_551_759.400),
        ((50.06632, -5.71475), (58.64402, -3.07009), 969_954.166),
        ((0, 0), (90, 0), 10_001_965.729),
    ],
)
def test_a_geodesic_is_met_as_closely_as_a_sphere_can(
    start: tuple[float, float], end: tuple[float, float], metres: float
) -> None:
    assert great_circle_m(*start, *end) == pytest.approx(metres, rel=SPHERE)


# On a sphere: Flinders Peak to Buninyong computed with the haversine package; a degree of latitude is
# arithmetic. The last two are worked on spheres of 6371 km and 6372.8 km and are scaled to the mean radius:
# the Veness test suite, computed; the well-known programming task BNA to LAX, computed, inputs from memory.
@pytest.mark.parametrize(
    ("start", "end", "metres", "radius_m", "within_m"),
    [
        (FLINDERS, BUNINYONG, 54_925.508, MEAN_RADIUS_M, 0.01),
        ((10, 20), (11, 20), 111_195.080, MEAN_RADIUS_M, 0.001),
        (
            (50.06632, -5.71475),
            (58.64402, -3.07009),
            968_874.7,
            6_371_000.0,
            0.1,
        ),
        ((36.12, -86.67), (33.94, -118.40), 2_887_260.0, 6_372_800.0, 1.0),
    ],
)
def test_a_sphere_is_met_to_the_metre(
    start: tuple[float, float],
    end: tuple[float, float],
    metres: float,
    radius_m: float,
    within_m: float,
) -> None:
    on_its_sphere = great_circle_m(*start, *end) * radius_m / MEAN_RADIUS_M
    assert on_its_sphere == pytest.approx(metres, abs=within_m)


@settings(max_examples=200, deadline=None)
@given(
    lat_a=st.floats(-80, 80),
    lon_a=st.floats(-180, 180),
    lat_b=st.floats(-80, 80),
    lon_b=st.floats(-180, 180),
)
def test_any_two_places_are_as_far_apart_as_geographiclib_says(
    lat_a: float, lon_a: float, lat_b: float, lon_b: float
) -> None:
    geodesic = Geodesic.WGS84.Inverse(lat_a, lon_a, lat_b, lon_b)["s12"]
    found = great_circle_m(lat_a, lon_a, lat_b, lon_b)
    assert found == pytest.approx(geodesic, rel=SPHERE, abs=1e-3)
    assert found == pytest.approx(great_circle_m(lat_b, lon_b, lat_a, lon_a), abs=1e-3)


# Roads are 1.2 to 1.3 times the straight line in cities (Newell 1980; O'Sullivan 1996; cited in an open
# textbook, read), 1.20 to 1.42 over the US (Ballou 2002, Boscoe 2012; from memory), more near shorelines.
def test_the_default_road_factor_lies_inside_what_studies_found() -> None:
    roads = Roads(start_minutes=0)
    straight = great_circle_m(44.0935, -69.1240, 44.1862, -69.0752)
    _, metres = drive(44.0935, -69.1240, 44.1862, -69.0752, roads)
    assert 1.2 <= metres / straight <= 1.42
