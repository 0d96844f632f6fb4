"""Spans of shade against a scan of every minute by the pvlib library (SPA), with the panels' own geometry.

A panel with outward normal n and flare f is lit when cos(el) cos(az-n) cos f - sin(el) sin f > 0 and the sun is
up; a side is shaded when its main and its bow panel are. Geometry: Duffie and Beckman, eq. 1.6.3, with a slope.
"""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import solarposition

from dispatch.trade import shade, sun
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Obstacle, Site
from dispatch.trade.spans import Span

# What two positions of the sun may differ by decides nothing: such minutes are left out.
GRAZING = 0.001
STEP = 5


def margin(site: Site, hull: Hull, panel: str, unix: sun.Floats) -> sun.Floats:
    """Above zero where the reference has the panel lit."""
    times = np.array([np.datetime64(int(second), "s") for second in unix])
    seen = solarposition.spa_python(times, site.lat, site.lon)
    azimuth, up = (
        np.radians(seen[name].to_numpy()) for name in ("azimuth", "elevation")
    )
    flare = np.radians(hull.flare_deg)
    faces = [
        np.cos(up)
        * np.cos(azimuth - np.radians(hull.heading_true_deg + turn))
        * np.cos(flare)
        - np.sin(up) * np.sin(flare)
        for turn in {"port": (-90, -65), "starboard": (90, 65), "transom": (180,)}[
            panel
        ]
    ]
    return np.minimum(np.sin(up), np.max(faces, axis=0))


def held(spans: tuple[Span, ...], unix: sun.Floats) -> shade.Bools:
    within = [(unix >= s.start.timestamp()) & (unix < s.end.timestamp()) for s in spans]
    return np.any(within, axis=0) if within else np.zeros(len(unix), dtype=np.bool_)


def longest_run(mask: shade.Bools) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], mask.astype(int), [0]))))
    return int(max(edges[1::2] - edges[::2], default=0))


@settings(max_examples=40, deadline=None)
@given(
    lat=st.floats(-66, 66),
    lon=st.floats(-180, 180),
    heading=st.floats(0, 359.9),
    flare=st.floats(0, 25),
    panel=st.sampled_from(["port", "starboard", "transom"]),
    day=st.integers(0, 3000),
)
def test_every_minute_of_a_day_is_as_the_scan_has_it(
    lat: float, lon: float, heading: float, flare: float, panel: str, day: int
) -> None:
    """What differs may last less than a step: shade or sun so short is missed, as the docstring says."""
    site = Site(lat=lat, lon=lon, zone="UTC")
    hull = Hull(heading_true_deg=heading, flare_deg=flare)
    start = datetime(2024, 1, 1, tzinfo=UTC) + timedelta(days=day)
    span = Span(start, start + timedelta(days=1))
    unix = shade.grid(span, 1)
    by_scan = margin(site, hull, panel, unix)
    shaded = held(shade.shade_spans(site, hull, panel, span), unix)
    differs = (shaded != (by_scan <= 0)) & (np.abs(by_scan) > GRAZING)
    assert longest_run(differs) < STEP


# The hairlines of a boat at 44.10 N, 69.10 W: where each side changes on a day in May, to 2 minutes of the scan.
@pytest.mark.parametrize("heading", [0, 45, 90, 135, 200, 270, 334.5])
@pytest.mark.parametrize("panel", ["port", "starboard", "transom"])
@pytest.mark.parametrize("lat", [44.10, -43.53])
def test_edges_lie_within_two_minutes_of_the_scan(
    heading: float, panel: str, lat: float
) -> None:
    site, hull = Site(lat=lat, lon=-69.1, zone="UTC"), Hull(heading_true_deg=heading)
    span = Span(
        datetime(2027, 5, 26, 4, tzinfo=UTC), datetime(2027, 5, 27, 4, tzinfo=UTC)
    )
    lit = margin(site, hull, panel, shade.grid(span, 1)) > 0
    scanned = np.flatnonzero(lit[1:] != lit[:-1]) + 1
    found = [
        (edge - span.start) / timedelta(minutes=1)
        for one in shade.shade_spans(site, hull, panel, span)
        for edge in (one.start, one.end)
        if span.start < edge < span.end
    ]
    assert found == pytest.approx(scanned.tolist(), abs=2)


# A hedge 20 degrees high on the west is arithmetic: where the sun behind it stands lower, the side is shaded.
def test_an_obstacle_shades_where_the_sun_stands_lower_than_it() -> None:
    hedge = Obstacle(az_from_deg=225, az_to_deg=315, elevation_deg=20)
    site = Site(lat=44.1, lon=-69.1, zone="UTC", obstacles=(hedge,))
    hull = Hull(heading_true_deg=0)
    span = Span(
        datetime(2027, 5, 26, 16, tzinfo=UTC), datetime(2027, 5, 27, 2, tzinfo=UTC)
    )
    shades = shade.shade_spans(site, hull, "port", span)
    azimuth, height = sun.series(44.1, -69.1, [shades[-1].start])
    assert height[0] == pytest.approx(20, abs=0.2)
    assert 225 < azimuth[0] < 315
    assert shades[-1].end == span.end
