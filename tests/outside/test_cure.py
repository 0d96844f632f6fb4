"""The cure clock, against what "doubles every 10 kelvin" says and what any clock must keep."""

import math
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


# The linear maturity sum of concrete (Nurse-Saul in ASTM C1074: the sum of T - T0 over time) is not reckoned here:
# no coating's sheet gives degree-hours or a datum temperature. Sheets give hours at a temperature and by how much
# warmth hastens them, which is the doubling above.
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


# What any such clock must keep, whatever its rate: it stands still below the sheet's minimum (common practice: the
# clock follows the surface and stops near it), runs as the clock on the wall at its reference temperature, slower
# below, faster above, and never backwards.
@settings(deadline=None)
@given(hourly=TEMPERATURES, min_c=st.floats(0, 20))
def test_clock_keeps_what_any_cure_clock_must(hourly, min_c):
    surface = cure.Surface(start=START, hourly_c=tuple(hourly))
    end = START + timedelta(hours=len(hourly))
    gained = cure.gained_ref_h(surface, START, end, min_c)
    counted = [celsius for celsius in hourly if celsius >= min_c]
    warm = cure.Surface(start=START, hourly_c=(*counted, 0.0))
    alone = cure.gained_ref_h(warm, START, START + timedelta(hours=len(counted)), min_c)
    assert gained == pytest.approx(alone, abs=1e-9)
    assert gained >= 0
    if max(hourly) < cure.REFERENCE_C:
        assert gained < len(hourly)
    if min(hourly) >= cure.REFERENCE_C:
        assert gained >= len(hourly) - 1e-9


@settings(deadline=None)
@given(hourly=TEMPERATURES, ref_h=st.floats(0.5, 8), warmer=st.floats(0, 10))
def test_a_warmer_hull_is_never_set_later(hourly, ref_h, warmer):
    surface = cure.Surface(start=START, hourly_c=tuple(hourly))
    cool = cure.set_at(surface, START, ref_h, 7)
    warm = cure.set_at(surface.shifted(warmer), START, ref_h, 7)
    if cool is not None:
        assert warm is not None
        assert warm <= cool + timedelta(seconds=1)
        gained = cure.gained_ref_h(surface, START, cool, 7)
        assert gained == pytest.approx(ref_h, abs=1e-6)


def test_at_the_reference_temperature_hours_are_hours():
    surface = cure.Surface(start=START, hourly_c=(cure.REFERENCE_C,) * 20)
    gained = cure.gained_ref_h(surface, START, START + timedelta(hours=12.5), 7)
    assert gained == pytest.approx(12.5)


# Arithmetic on the law of Arrhenius: 51.21 kJ/mol doubles a rate from 20 to 30 C, 47.83 from 10 to 20 C.
@pytest.mark.parametrize(("low_c", "joules"), [(20, 51_210), (10, 47_830)])
def test_rate_doubles_as_its_activation_energy_says(low_c, joules):
    cold, warm = low_c + 273.15, low_c + 283.15
    by_law = math.exp(joules / 8.314462618 * (1 / cold - 1 / warm))
    ours = cure.rate(low_c + 10, -50) / cure.rate(low_c, -50)
    assert ours == pytest.approx(by_law, rel=2e-4)


# ASTM C1074's equivalent age with Q = 5000 K at 20 C (factors seen and arithmetic; Q from memory). Concrete is only
# an analogue: film is counted slower than that in the cold, where sanding too soon spoils it, and no clock gains
# more than at 90 F in the heat.
@pytest.mark.parametrize(
    ("celsius", "factor"), [(5, 0.3982), (10, 0.5472), (15, 0.7436)]
)
def test_in_the_cold_the_clock_is_never_ahead_of_equivalent_age(celsius, factor):
    by_form = math.exp(-5000 * (1 / (celsius + 273) - 1 / 293))
    assert by_form == pytest.approx(factor, abs=1e-3)
    assert cure.rate(celsius, -50) / cure.rate(20, -50) < factor


@pytest.mark.parametrize(("celsius", "factor"), [(40, 2.9755)])
def test_in_the_heat_it_is_capped_below_equivalent_age(celsius, factor):
    assert cure.rate(celsius, -50) / cure.rate(20, -50) < factor
