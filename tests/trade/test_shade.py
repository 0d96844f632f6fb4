"""Shade on a hull: the trade's own table of a May day at 44 N."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from dispatch.trade import sun
from dispatch.trade.shade import (
    PANELS,
    Hull,
    latest_start,
    panel_shades,
    shade_spans,
    true_heading,
)
from dispatch.trade.sky import Obstacle, Site
from dispatch.trade.spans import Span
from tests.trade.lanternglass import SITE, ZONE, near

NY = ZoneInfo(ZONE)


def at(hour: int, minute: int = 0, *, day: int = 26) -> datetime:
    return datetime(2027, 5, day, hour, minute, tzinfo=NY)


DAY = Span(at(6), at(19))


@pytest.mark.parametrize(
    ("heading", "panel", "first", "last"),
    [
        (0, "port", at(6), at(13, 25)),
        (0, "starboard", at(11, 50), at(19)),
        (90, "port", at(9, 20), at(17, 35)),
        (90, "starboard", at(16, 5), at(19)),
        (180, "transom", at(7, 35), at(17, 35)),
        (270, "starboard", at(7, 35), at(15, 50)),
        (315, "starboard", at(10, 20), at(19)),
    ],
)
def test_shade_of_a_may_day(
    heading: float, panel: str, first: datetime, last: datetime
) -> None:
    (span,) = [
        s
        for s in shade_spans(SITE, Hull(heading_true_deg=heading), panel, DAY)
        if s.length > timedelta(hours=1)
    ]
    assert near(span.start, first)
    assert near(span.end, last)


def test_a_slot_must_lie_in_shade_as_a_whole() -> None:
    site = Site(lat=44.1045, lon=-69.1040, zone=ZONE)
    day = Span(at(6, day=24), at(16, day=24))
    start = latest_start(
        site, Hull(heading_true_deg=10), "port", day, timedelta(minutes=103)
    )
    assert near(start, at(11, 56, day=24))


def test_a_compass_reading_is_turned_to_true() -> None:
    assert true_heading(350, -15.5, "magnetic") == pytest.approx(334.5)
    assert true_heading(350, -15.5, "true") == 350


def test_southern_sides_exchange_roles() -> None:
    zone = ZoneInfo("Pacific/Auckland")
    site = Site(lat=-43.53, lon=172.63, zone="Pacific/Auckland")
    day = Span(
        datetime(2027, 1, 15, 8, tzinfo=zone), datetime(2027, 1, 15, 20, tzinfo=zone)
    )
    (port,) = shade_spans(site, Hull(heading_true_deg=90), "port", day)
    (starboard,) = shade_spans(site, Hull(heading_true_deg=90), "starboard", day)
    assert near(port.start, datetime(2027, 1, 15, 17, 5, tzinfo=zone))
    assert near(starboard.start, datetime(2027, 1, 15, 10, 25, tzinfo=zone))
    assert near(starboard.end, datetime(2027, 1, 15, 18, 40, tzinfo=zone))


@pytest.mark.parametrize("to_deg", [359, 360])
def test_a_hedge_adds_shade(to_deg: float) -> None:
    hedge = Site(
        lat=44.1,
        lon=-69.1,
        zone=ZONE,
        obstacles=(Obstacle(az_from_deg=0, az_to_deg=to_deg, elevation_deg=89),),
    )
    assert shade_spans(hedge, Hull(heading_true_deg=0), "port", DAY) == (
        Span(DAY.start, DAY.end),
    )


def test_a_panel_that_is_not_there_is_refused() -> None:
    with pytest.raises(ValueError, match="There is no panel keel"):
        shade_spans(SITE, Hull(heading_true_deg=0), "keel", DAY)


def test_shade_that_ends_inside_the_last_step_ends_there() -> None:
    """Port of a boat that heads north comes into the sun about 13:25."""
    hull = Hull(heading_true_deg=0)
    (whole,) = shade_spans(SITE, hull, "port", DAY)[:1]
    cut = Span(DAY.start, whole.end + timedelta(minutes=2))
    (shortened,) = shade_spans(SITE, hull, "port", cut)
    assert abs(shortened.end - whole.end) <= timedelta(minutes=1)


def test_a_year_of_a_boat_works_the_sun_out_about_once_a_step(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Counted, not timed: four panels share the sun, and edges are looked at again minute by minute."""
    moments = []
    whole = sun.toward

    def counted(lat: float, lon: float, unix: sun.Floats) -> sun.Toward:
        moments.append(len(unix))
        return whole(lat, lon, unix)

    monkeypatch.setattr(sun, "toward", counted)
    year = Span(
        datetime(2027, 1, 1, tzinfo=NY).astimezone(UTC),
        datetime(2028, 1, 1, tzinfo=NY).astimezone(UTC),
    )
    shades = panel_shades(SITE, Hull(heading_true_deg=40), PANELS, year)
    steps = year.length / timedelta(minutes=5)
    assert set(shades) == set(PANELS)
    assert len(moments) <= 1 + len(PANELS)
    assert steps < sum(moments) < 1.2 * steps


def test_many_moments_are_as_exact_as_few() -> None:
    """A year by five minutes goes by way of each hour's declination; single moments do not."""
    unix = 1_806_000_000 + 300.0 * np.arange(105_120)
    many = sun.angles(44.1, -69.1, unix)[1][::5000]
    few = sun.angles(44.1, -69.1, unix[::5000])[1]
    assert many == pytest.approx(few, abs=1e-5)


def turns(
    heading: float, panel: str, day: datetime, site: Site = SITE
) -> tuple[str, ...]:
    """The local times from six to half past eight at which a panel's shade begins or ends."""
    span = Span(day.replace(hour=6), day.replace(hour=20, minute=30))
    edges = {
        edge
        for one in shade_spans(site, Hull(heading_true_deg=heading), panel, span)
        for edge in (one.start, one.end)
        if span.start < edge < span.end
    }
    return tuple(f"{edge.astimezone(NY):%H:%M}" for edge in sorted(edges))


def minutes(clocks: tuple[str, ...]) -> list[int]:
    return [int(clock[:2]) * 60 + int(clock[3:]) for clock in clocks]


# Worked out by a program that shares no code with this one; a shaded spell before sunset is left out there, so
# only times before 18:30 are compared. Heading 334.5 is a compass reading of 350 at a declination of -15.5.
@pytest.mark.parametrize(
    ("heading", "panel", "month", "day", "clocks"),
    [
        (334.5, "port", 5, 28, ("12:45",)),
        (334.5, "starboard", 5, 28, ("11:05",)),
        (265, "starboard", 5, 28, ("15:35",)),
        (355, "port", 5, 28, ("13:15",)),
        (355, "starboard", 5, 28, ("11:40",)),
        (90, "starboard", 9, 15, ("18:15",)),
        (0, "port", 9, 15, ("13:10",)),
        (0, "starboard", 9, 15, ("12:00",)),
        (225, "port", 9, 15, ("16:00",)),
        (315, "starboard", 10, 20, ("09:20",)),
        (135, "port", 10, 20, ("10:50",)),
        (200, "starboard", 5, 25, ("13:15",)),
    ],
)
def test_sides_change_when_another_program_says(
    heading: float, panel: str, month: int, day: int, clocks: tuple[str, ...]
) -> None:
    found = minutes(turns(heading, panel, datetime(2027, month, day, tzinfo=NY)))
    daytime = [clock for clock in found if 7 * 60 <= clock < 18.5 * 60]
    assert len(daytime) == len(clocks) or len(daytime) == len(clocks) + 1
    for wanted in minutes(clocks):
        assert min(abs(clock - wanted) for clock in daytime) <= 10


def test_an_eastward_boat_has_no_day_for_both_sides_in_september() -> None:
    """Her southern side is first shaded at dusk; turned north she has both in one day."""
    day = datetime(2027, 9, 15, tzinfo=NY)
    work_hours = Span(day.replace(hour=8), day.replace(hour=17))
    slot = timedelta(minutes=100)

    def latest(heading: float, panel: str) -> datetime | None:
        return latest_start(
            SITE, Hull(heading_true_deg=heading), panel, work_hours, slot
        )

    assert latest(90, "port") is not None
    assert latest(90, "starboard") is None
    assert latest(0, "port") is not None
    assert latest(0, "starboard") is not None
