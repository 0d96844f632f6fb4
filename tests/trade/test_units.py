"""Conversions there and back."""

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import units
from dispatch.trade.words import Words

PAIRS = [
    (units.f_to_c, units.c_to_f),
    (units.df_to_dk, units.dk_to_df),
    (units.mph_to_ms, units.ms_to_mph),
    (units.ft_to_m, units.m_to_ft),
    (units.oz_to_ml, units.ml_to_oz),
    (units.inch_to_mm, units.mm_to_inch),
]
Turn = Callable[[float], float]


@pytest.mark.parametrize(("there", "back"), PAIRS)
@settings(deadline=None)
@given(value=st.floats(-1000, 1000))
def test_a_number_comes_back_as_it_went(there: Turn, back: Turn, value: float) -> None:
    assert back(there(value)) == pytest.approx(value, abs=1e-9)


def test_a_difference_of_5_f_is_not_3_c() -> None:
    assert units.df_to_dk(5) == pytest.approx(2.7778, abs=1e-4)
    assert units.dk_to_df(3) == pytest.approx(5.4)


def test_freezing_and_boiling_points() -> None:
    assert units.f_to_c(32) == 0
    assert units.f_to_c(212) == pytest.approx(100)


def test_a_film_is_told_in_mil_or_micrometres() -> None:
    assert Words(system="us").film(254) == "10.0 mil"
    assert Words(system="metric").film(38.4) == "38 µm"
