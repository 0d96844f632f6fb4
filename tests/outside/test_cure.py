"""The cure clock, against what "doubles every 10 kelvin" says and what any clock must keep."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import cure
from dispatch.trade.units import f_to_c

START = datetime(2027, 5, 24, 12, tzinfo=UTC)
TEMPERATURES = st.lists(st.floats(-5, 40), min_size=12, max_size=60)


# "Rate doubles per 10 C", read on the page: 24 h at 20 C become 48, 33.94, 16.97 and 12 h.
@pytest.mark.parametrize(
    ("celsius", "hours"), [(10, 48), (15, 33.94), (25, 16.97), (30, 12)]
)
def test_rate_doubles_every_ten_kelvin(celsius, hours):
    ratio = cure.rate(20, -50) / cure.rate(celsius, -50)
    assert 24 * ratio == pytest.approx(hours, abs=0.01)


@settings(deadline=None)
@given(hourly=TEMPERATURES, split=st.floats(0.05, 0.95))
def test_clock_is_additive_over_splits(hourly, split):
    surface = cure.Surface(start=START, hourly_c=tuple(hourly))
    end = START + timedelta(hours=len(hourly))
    middle = START + (end - START) * split
    parts = cure.gained_ref_h(surface, START, middle, 7) + cure.gained_ref_h(
        surface, middle, end, 7
    )
    assert parts == pytest.approx(cure.gained_ref_h(surface, START, end, 7), abs=1e-9)


def test_nothing_sets_below_the_minimum():
    surface = cure.Surface(start=START, hourly_c=(f_to_c(49),) * 400)
    assert cure.set_at(surface, START, 14, f_to_c(50)) is None


def test_at_the_reference_temperature_an_hour_is_an_hour_across_a_clock_change():
    """14 h at 70 F from 18:00 EDT on 6 November 2027 end at 07:00 EST: elapsed, not wall time (15 USC 260a)."""
    start = datetime(2027, 11, 6, 22, tzinfo=UTC)
    surface = cure.Surface(start=start, hourly_c=(cure.REFERENCE_C,) * 30)
    assert cure.set_at(surface, start, 14, 10) == datetime(2027, 11, 7, 12, tzinfo=UTC)
