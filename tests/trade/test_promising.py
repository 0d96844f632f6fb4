"""Promised days and full days.

Ranges instead of a day, and room for what runs over, are common practice; the days and the shares are assumptions.
"""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import promising
from dispatch.trade.buffer import Load
from dispatch.trade.promising import Slip

WEEKDAYS = frozenset(range(5))
MADE = date(2027, 5, 23)


def promised(start, finish, *, sprays=True, made_on=MADE, weekdays=WEEKDAYS):
    return promising.range_of(
        (start, finish), sprays=sprays, made_on=made_on, weekdays=weekdays, slip=Slip()
    )


@pytest.mark.parametrize(
    ("start", "finish", "sprays", "last"),
    [
        (date(2027, 5, 25), date(2027, 5, 26), True, date(2027, 5, 27)),
        # Over a weekend, and no slip where no film is laid.
        (date(2027, 5, 27), date(2027, 5, 28), True, date(2027, 5, 31)),
        (date(2027, 5, 27), date(2027, 5, 28), False, date(2027, 5, 28)),
        # More than five days ahead, and in October.
        (date(2027, 6, 1), date(2027, 6, 2), True, date(2027, 6, 4)),
    ],
)
def test_a_range_ends_working_days_after_the_planned_finish(
    start, finish, sprays, last
):
    assert promised(start, finish, sprays=sprays) == (start, last)


def test_spring_and_autumn_keep_more_for_the_weather():
    day = date(2027, 10, 12)
    assert promised(day, day, made_on=day - timedelta(days=1))[1] == date(2027, 10, 14)


@pytest.mark.parametrize(("days", "may"), [(0, False), (1, False), (2, True)])
def test_a_hard_date_wants_two_days_to_spray_on(days, may):
    assert promising.hard_date_may_be_given(days) is may


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="no sooner"):
        promised(date(2027, 5, 26), date(2027, 5, 25))
    with pytest.raises(ValueError, match="some day of the week"):
        promised(MADE, MADE, weekdays=frozenset())


@settings(deadline=None)
@given(
    start=st.dates(date(2027, 1, 1), date(2028, 12, 31)),
    long=st.integers(0, 10),
    ahead=st.integers(0, 30),
    sprays=st.booleans(),
    weekdays=st.sets(st.integers(0, 6), min_size=1),
)
def test_a_promise_never_ends_before_the_plan_does(
    start, long, ahead, sprays, weekdays
):
    finish = start + timedelta(days=long)
    made = start - timedelta(days=ahead)
    first, last = promised(
        start, finish, sprays=sprays, made_on=made, weekdays=weekdays
    )
    assert first == start
    assert last >= finish
    assert last == finish or last.weekday() in weekdays


@pytest.mark.parametrize(
    ("planned", "late", "there", "full"),
    [
        (850, 1050, 1000, False),
        (851, 900, 1000, True),
        (800, 1051, 1000, True),
        (1, 1, 0, True),
        (0, 0, 0, False),
    ],
)
def test_a_day_is_too_full_above_85_percent_or_late_above_105(
    planned, late, there, full
):
    load = Load(planned_minutes=planned, late_minutes=late, there_minutes=there)
    assert load.too_full(0.85, 1.05) is full
