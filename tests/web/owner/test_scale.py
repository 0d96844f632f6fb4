"""Along the sheet: the day wide, the night squeezed to a quarter, no moment cut."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from dispatch.web.owner import scale

ZONE = ZoneInfo("America/New_York")
WEEK = tuple(date(2027, 5, 24) + timedelta(days=i) for i in range(7))
# The clocks go back at 02:00 on this Sunday: 25 hours, all of the added one by night.
LONG_WEEK = tuple(date(2027, 11, 1) + timedelta(days=i) for i in range(7))


def at(day: int, hour: int, month: int = 5) -> datetime:
    return datetime(2027, month, day, hour, tzinfo=ZONE)


def test_an_hour_by_night_is_a_quarter_of_one_by_day():
    along = scale.of(WEEK, ZONE, 0, 700)
    by_day = along.x(at(24, 11)) - along.x(at(24, 10))
    by_night = along.x(at(24, 3)) - along.x(at(24, 2))
    assert by_night == pytest.approx(by_day / 4)


def test_days_are_equal_and_fill_the_sheet():
    along = scale.of(WEEK, ZONE, 10, 700)
    edges = [along.x(at(day, 0)) for day in range(24, 31)]
    assert along.left == 10
    assert along.right == pytest.approx(710)
    assert all(b - a == pytest.approx(100) for a, b in pairwise(edges))


def test_time_never_runs_back():
    along = scale.of(LONG_WEEK, ZONE, 0, 700)
    first = datetime(2027, 11, 1, tzinfo=UTC)
    xs = [along.x(first + timedelta(minutes=20 * i)) for i in range(24 * 3 * 8)]
    assert xs == sorted(xs)


def test_the_hour_the_clocks_add_has_its_own_width():
    along = scale.of(LONG_WEEK, ZONE, 0, 700)
    usual = along.x(at(6, 5, 11)) - along.x(at(6, 0, 11))
    longer = along.x(at(7, 5, 11)) - along.x(at(7, 0, 11))
    assert longer == pytest.approx(usual * 6 / 5)


def test_moments_outside_the_week_stand_at_its_edges():
    along = scale.of(WEEK, ZONE, 0, 700)
    assert along.x(at(23, 12)) == along.left
    assert not along.holds(at(23, 12))
    assert along.x(at(31, 12)) == along.right
