"""Calendars and clocks: elapsed time over the changes of US clocks, and what a local time means.

The changes themselves (second Sunday of March, first of November, at 02:00) are 15 USC 260a, read on the page.
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import SU, YEARLY, rrule

from dispatch.actions.timeline import Timeline
from dispatch.trade import cure
from dispatch.trade.cure import REFERENCE_C, Surface
from dispatch.trade.spans import Span

NEW_YORK = ZoneInfo("America/New_York")


def utc(text: str, zone: ZoneInfo = NEW_YORK) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=zone).astimezone(UTC)


def timeline(days: list[date], zone: ZoneInfo = NEW_YORK) -> Timeline:
    zero = datetime.combine(days[0], time(0), tzinfo=zone).astimezone(UTC)
    return Timeline(zone=zone, dates=tuple(days), zero=zero)


def read(local: str, zone: str = "America/New_York") -> datetime:
    """What the planner takes a day and a time on the wall to be."""
    day, clock = local.split()
    line = timeline([date.fromisoformat(day)], ZoneInfo(zone))
    return line.moment(line.at(line.dates[0], time.fromisoformat(clock)))


# 15 USC 260a; the days of each year agree with a recurrence rule (second Sunday, first Sunday).
@pytest.mark.parametrize(
    ("spring", "autumn"),
    [
        ("2026-03-08", "2026-11-01"),
        ("2027-03-14", "2027-11-07"),
        ("2028-03-12", "2028-11-05"),
        ("2029-03-11", "2029-11-04"),
        ("2030-03-10", "2030-11-03"),
    ],
)
def test_two_days_a_year_do_not_last_24_hours(spring: str, autumn: str) -> None:
    first = date.fromisoformat(f"{spring[:4]}-01-01")
    year = timeline([first + timedelta(days=n) for n in range(365)])
    lengths = {
        day.isoformat(): (end - start) // 60
        for day, (start, end) in zip(year.dates, year.days, strict=True)
        if end - start != 24 * 60
    }
    assert lengths == {spring: 23, autumn: 25}
    for month, nth, found in ((3, 2, spring), (11, 1, autumn)):
        by_rule = rrule(
            YEARLY,
            bymonth=month,
            byweekday=SU(nth),
            count=1,
            dtstart=datetime.combine(first, time(0)),
        )
        assert by_rule[0].date().isoformat() == found


# RFC 5545, 3.3.5, read on the page: a time that comes twice is the first of the two; one that does not come is
# read with the offset before the gap. The 2027 gap and Phoenix are computed with zoneinfo.
@pytest.mark.parametrize(
    ("zone", "local", "moment"),
    [
        ("America/New_York", "2007-11-04 01:30", "2007-11-04T05:30"),
        ("America/New_York", "2007-03-11 02:30", "2007-03-11T07:30"),
        ("America/New_York", "2027-03-14 02:30", "2027-03-14T07:30"),
        ("America/Phoenix", "2027-03-14 02:30", "2027-03-14T09:30"),
        ("America/Phoenix", "2027-11-07 01:30", "2027-11-07T08:30"),
    ],
)
def test_a_time_on_the_wall_is_read_as_the_standard_says(
    zone: str, local: str, moment: str
) -> None:
    assert read(local, zone) == datetime.fromisoformat(moment).replace(tzinfo=UTC)


# Elapsed time, not wall time: RFC 5545, 3.3.6, tells PT24H from P1D (read on the page); computed with zoneinfo.
@pytest.mark.parametrize(
    ("laid", "done"),
    [
        ("2027-03-13T16:00", "2027-03-14T17:00"),
        ("2027-11-06T16:00", "2027-11-07T15:00"),
    ],
)
def test_a_hold_of_24_hours_is_24_hours_over_a_change(laid: str, done: str) -> None:
    local = datetime.fromisoformat(laid).replace(tzinfo=NEW_YORK)
    surface = Surface(start=local, hourly_c=(REFERENCE_C,) * 48)
    assert cure.set_at(surface, local, 24, 10) == utc(done)
    end = datetime.fromisoformat(done).replace(tzinfo=NEW_YORK)
    assert Span(local, end).length == timedelta(hours=24)


# Two moments of one zone subtract as wall time in Python: 12 h where 11 pass. Computed with zoneinfo.
def test_a_night_that_loses_an_hour_is_an_hour_shorter() -> None:
    evening, morning = (
        datetime(2027, 3, day, hour, tzinfo=NEW_YORK)
        for day, hour in ((13, 18), (14, 6))
    )
    assert morning - evening == timedelta(hours=12)
    assert Span(evening, morning).length == timedelta(hours=11)
