"""More rows of moist air: humidity from dew point, what 85 % is worth, and the two spellings of the spread rule.

ASHRAE and AE96 stand for the formulas of PsychroLib and of Alduchov and Eskridge 1996, which computed these values.
"""

import importlib
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import air
from dispatch.trade.limits import FAMILIES
from dispatch.trade.units import c_to_f, df_to_dk, dk_to_df, f_to_c, ms_to_mph

# PsychroLib compiles itself where numba is installed, which takes far longer than all it computes here.
with pytest.MonkeyPatch.context() as without:
    without.setitem(sys.modules, "numba", None)
    psychrolib = importlib.import_module("psychrolib")


# Computed: AE96 14.36 (a coating dew table prints 14.4, read on the page), 15.759, 19.977 and 9.256 to 9.272 C.
@pytest.mark.parametrize(
    ("air_c", "rh", "dew_c"),
    [(20, 70, 14.36), (24, 60, 15.759), (30, 55, 19.977), (20, 50, 9.26)],
)
def test_dew_point_to_a_twentieth_of_a_kelvin(
    air_c: float, rh: float, dew_c: float
) -> None:
    assert air.dew_point_c(air_c, rh) == pytest.approx(dew_c, abs=0.05)


# Computed: AE96 52.54 %, PsychroLib 52.51 %.
def test_humidity_from_the_dew_point() -> None:
    assert air.rh_pct(20, 10) == pytest.approx(52.5, abs=0.2)


# Computed, AE96 and PsychroLib within 0.04 %: where the air itself is just 3 K above its dew point. So a limit of
# 85 % asks for less than a spread of 3 K does.
@pytest.mark.parametrize(
    ("air_c", "rh"), [(5, 80.9), (15, 82.3), (25, 83.5), (35, 84.5)]
)
def test_eighty_five_percent_is_a_weaker_test_than_three_kelvin(
    air_c: float, rh: float
) -> None:
    assert air.rh_pct(air_c, air_c - 3) == pytest.approx(rh, abs=0.1)
    assert air_c - air.dew_point_c(air_c, 85) < 3


# Ratio of two saturation pressures, 23.388 and 42.460 hPa by ASHRAE (computed): humidity of air at 30 C that is
# saturated at 20 C.
def test_humidity_is_the_ratio_of_saturation_pressures() -> None:
    assert air.rh_pct(30, 20) == pytest.approx(100 * 23.388 / 42.460, rel=0.003)


# Arithmetic: 3 C is 5.4 F and 5 F is 2.78 C. The house keeps 5 F, which is common practice; ISO 8502-4 guides on
# condensation, its 3 C as trade pages have it (read).
def test_the_spread_rule_is_five_fahrenheit() -> None:
    assert dk_to_df(3) == pytest.approx(5.4)
    assert df_to_dk(5) == pytest.approx(2.78, abs=0.003)
    for family in ("spray", "gelcoat", "wipe-on"):
        assert FAMILIES[family].spread_min_k == pytest.approx(df_to_dk(5))


# A coating dew table's rule worked through (read on the page): air 20 C at 70 %, surface at least 17.4 C by 3 C.
def test_the_surface_a_spread_asks_for() -> None:
    assert air.dew_point_c(20, 70) + 3 == pytest.approx(17.4, abs=0.1)


# Common practice as printed, read on the pages: humidity at most 85 %, wind at most 15 mph and less where
# overspray is possible (public-works paint specifications), 45 to 90 F (MIL-HDBK-1110, 7.4.1, written for
# fixed facilities). A product's own sheet goes before all of them (the same handbook, 9.6.6).
def test_the_defaults_for_spraying_are_no_laxer_than_printed_rules() -> None:
    spray = FAMILIES["spray"]
    assert spray.rh_max_pct <= 85
    assert ms_to_mph(spray.wind_max_ms) <= 15
    assert 45 <= c_to_f(spray.air_min_c) < c_to_f(spray.air_max_c) <= 90


# The printed chart's own examples, read on the page; and the page's formula at its edges: the simple branch
# (computed with MetPy) and 80 F at 40 %, where averaging twice would flip it (simple 79.58, full 79.93).
@pytest.mark.parametrize(
    ("air_f", "rh", "index_f", "within"),
    [
        (90, 60, 100, 1.0),
        (96, 65, 121, 1.0),
        (88, 60, 95, 1.0),
        (75, 50, 74.55, 0.01),
        (70, 50, 69.05, 0.01),
        (80, 40, 79.58, 0.5),
        (95, 10, 89.45, 0.02),
    ],
)
def test_heat_index(air_f: float, rh: float, index_f: float, within: float) -> None:
    assert air.heat_index_f(air_f, rh) == pytest.approx(index_f, abs=within)


# The whole range work goes on in, against PsychroLib over water, within a tenth of a kelvin.
@settings(deadline=None, max_examples=200)
@given(air_c=st.floats(0.5, 45), rh=st.floats(15, 100))
def test_dew_point_agrees_with_psychrolib_where_it_is_above_freezing(
    air_c: float, rh: float
) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = psychrolib.GetTDewPointFromRelHum(air_c, rh / 100)
    if theirs > 0.1:
        assert air.dew_point_c(air_c, rh) == pytest.approx(theirs, abs=0.1)
    assert air.dew_point_c(air_c, rh) <= air_c + 1e-9


# No reading that is missing may come out as a number.
def test_what_is_not_a_number_stays_so() -> None:
    assert np.isnan(air.heat_index_f(np.nan, 50))
    assert np.isnan(air.dew_point_c(np.nan, 50))
    assert np.isnan(air.rh_pct(20, np.nan))
    with pytest.raises(ValueError, match="humidity"):
        air.dew_point_c(f_to_c(70), np.nan)
