"""A table of lags never promises film sooner than the cure clock does."""

import itertools
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import cure
from dispatch.trade.cure import REFERENCE_C, Surface
from dispatch.trade.lags import lag_table
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c

START = datetime(2027, 5, 24, 4, tzinfo=UTC)
WEEK = Span(START, START + timedelta(days=7))
MIN_C = f_to_c(50)


@settings(max_examples=10, deadline=None)
@given(hourly=st.lists(st.floats(5, 35), min_size=168, max_size=168))
def test_no_film_sets_later_than_its_row_says(hourly: list[float]) -> None:
    surface = Surface(start=START, hourly_c=tuple(hourly))
    for first, last, lag in lag_table(surface, WEEK, 4, MIN_C):
        for minute in (first, (first + last) // 2, last - 1):
            end = START + timedelta(minutes=minute)
            done = cure.set_at(surface, end, 4, MIN_C)
            if lag is not None:
                assert done is not None
                assert done - end <= timedelta(minutes=lag)


@settings(max_examples=10, deadline=None)
@given(night=st.floats(6, 15), day=st.floats(16, 30))
def test_a_week_of_days_and_nights_is_a_short_gapless_table(
    night: float, day: float
) -> None:
    hourly = tuple(day if 8 <= hour % 24 < 20 else night for hour in range(168))
    rows = lag_table(Surface(start=START, hourly_c=hourly), WEEK, 14, MIN_C)
    assert len(rows) <= 121
    assert rows[0][0] == 0
    assert rows[-1][1] == 7 * 24 * 60
    assert all(a[1] == b[0] for a, b in itertools.pairwise(rows))


def test_at_70_f_the_lag_is_the_sheets_own_until_the_forecast_ends() -> None:
    warm = Surface(start=START, hourly_c=(REFERENCE_C,) * 168)
    assert lag_table(warm, WEEK, 14, MIN_C) == (
        (0, (168 - 14) * 60, 14 * 60),
        ((168 - 14) * 60, 168 * 60, None),
    )


def test_film_too_cold_to_set_and_hours_nobody_forecast_have_no_lag() -> None:
    cold = Surface(start=START, hourly_c=(f_to_c(49),) * 168)
    unknown = Surface(start=START, hourly_c=())
    never = ((0, 168 * 60, None),)
    assert lag_table(cold, WEEK, 14, MIN_C) == never
    assert lag_table(unknown, WEEK, 14, MIN_C) == never
