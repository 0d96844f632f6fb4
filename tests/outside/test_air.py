"""Moist air, heat and cold, against published values and a reference library."""

import csv
import importlib
import sys
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dispatch.trade import air
from dispatch.trade.units import c_to_f, f_to_c

# PsychroLib compiles itself where numba is installed, which takes far longer than all it computes here.
with pytest.MonkeyPatch.context() as without:
    without.setitem(sys.modules, "numba", None)
    psychrolib = importlib.import_module("psychrolib")

TABLES = Path(__file__).parent / "tables"


# A dew table used for coating work (20/70); a sensor maker and a coating glossary (24/60, 30/55); read on the page.
@pytest.mark.parametrize(
    ("air_c", "rh", "dew_c"),
    [(20, 70, 14.4), (24, 60, 15.8), (30, 55, 20.0), (20, 50, 9.26)],
)
def test_dew_point(air_c, rh, dew_c):
    assert air.dew_point_c(air_c, rh) == pytest.approx(dew_c, abs=0.1)


# ASHRAE formulas, computed with PsychroLib.
@pytest.mark.parametrize(
    ("air_f", "rh", "dew_f"),
    [(70, 50, 50.5), (80, 60, 64.9), (90, 70, 78.9), (75, 85, 70.2)],
)
def test_dew_point_in_fahrenheit(air_f, rh, dew_f):
    assert c_to_f(air.dew_point_c(f_to_c(air_f), rh)) == pytest.approx(dew_f, abs=0.1)


# Lawrence 2005, Bull. Amer. Meteor. Soc. 86(2), 225: the rule of thumb is within a degree above 50 %.
@pytest.mark.parametrize(("air_c", "rh"), [(20, 80), (25, 60)])
def test_rule_of_thumb_for_moist_air(air_c, rh):
    assert air.dew_point_c(air_c, rh) == pytest.approx(air_c - (100 - rh) / 5, abs=1.0)


# Over water only: below freezing the reference goes over ice.
@settings(deadline=None)
@given(air_c=st.floats(1, 45), rh=st.floats(5, 100))
def test_dew_point_agrees_with_psychrolib(air_c, rh):
    psychrolib.SetUnitSystem(psychrolib.SI)
    reference = psychrolib.GetTDewPointFromRelHum(air_c, rh / 100)
    assume(reference > 0.05)
    assert air.dew_point_c(air_c, rh) == pytest.approx(reference, abs=0.1)


@settings(deadline=None)
@given(air_c=st.floats(-10, 45), rh=st.floats(5, 100))
def test_humidity_and_dew_point_are_inverse(air_c, rh):
    assert air.rh_pct(air_c, air.dew_point_c(air_c, rh)) == pytest.approx(rh, abs=1e-6)


def _rows(name):
    with (TABLES / name).open(newline="") as file:
        return list(csv.DictReader(file))


# The chart of the US National Weather Service shows the plain regression.
@pytest.mark.parametrize(
    "row",
    _rows("nws_heat_index_F.csv"),
    ids=lambda row: f"{row['T_F']}-{row['RH_pct']}",
)
def test_heat_index_chart(row):
    assert air.rothfusz_f(float(row["T_F"]), float(row["RH_pct"])) == pytest.approx(
        float(row["HI_F"]), abs=1.0
    )


# The equation page of the US National Weather Service, computed with MetPy.
@pytest.mark.parametrize(
    ("air_f", "rh", "index_f"),
    [(95, 10, 89.45), (75, 50, 74.55), (70, 50, 69.05), (90, 60, 99.68)],
)
def test_heat_index_page(air_f, rh, index_f):
    assert air.heat_index_f(air_f, rh) == pytest.approx(index_f, abs=0.02)


# The 2001 chart of the US National Weather Service; one cell (-30/50) is off by rounding.
@pytest.mark.parametrize(
    "row", _rows("nws_wind_chill_F.csv"), ids=lambda row: f"{row['T_F']}-{row['V_mph']}"
)
def test_wind_chill_chart(row):
    assert air.wind_chill_f(float(row["T_F"]), float(row["V_mph"])) == pytest.approx(
        float(row["WC_F"]), abs=0.8
    )
