"""Wet bulb and WBGT, against published formulas and limits and a reference library. Estimates, never advice."""

import importlib
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import air, strain, wet_bulb
from dispatch.trade.strain import Strain
from dispatch.trade.units import f_to_c

# PsychroLib compiles itself where numba is installed, which takes far longer than all it computes here.
with pytest.MonkeyPatch.context() as without:
    without.setitem(sys.modules, "numba", None)
    psychrolib = importlib.import_module("psychrolib")

SEA_LEVEL_PA = 101_325


# ASHRAE's balance by PsychroLib, computed: 13.783, 25.503 and 8.727 C. The first stands as 13.7 C in Stull 2011,
# J. Appl. Meteor. Climatol. 50, 2267 (read on the page; the formula, from memory, gives 13.699; MetPy 13.667).
@pytest.mark.parametrize(
    ("air_c", "rh", "wet_c"), [(20, 50, 13.7), (30, 70, 25.5), (10, 85, 8.73)]
)
def test_wet_bulb(air_c: float, rh: float, wet_c: float) -> None:
    assert wet_bulb.wet_bulb_c(air_c, rh) == pytest.approx(wet_c, abs=0.15)


# Over water only: below freezing the reference goes over ice.
@settings(deadline=None, max_examples=200)
@given(air_c=st.floats(10, 45), rh=st.floats(25, 99))
def test_wet_bulb_agrees_with_psychrolib(air_c: float, rh: float) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = psychrolib.GetTWetBulbFromRelHum(air_c, rh / 100, SEA_LEVEL_PA)
    assert wet_bulb.wet_bulb_c(air_c, rh) == pytest.approx(theirs, abs=0.1)


# Computed: 23.33 and 42.37 hPa by Alduchov and Eskridge 1996, 23.388 and 42.460 by ASHRAE.
@pytest.mark.parametrize(("air_c", "hpa"), [(20, 23.36), (30, 42.42)])
def test_saturation_pressure(air_c: float, hpa: float) -> None:
    assert air.saturation_hpa(air_c) == pytest.approx(hpa, rel=0.003)


# ISO 7243 and NIOSH 2016-106, seen in test suites, and arithmetic: natural wet bulb 25, globe 40, air 30 C.
def test_wbgt_outdoors() -> None:
    assert wet_bulb.wbgt_c(25, 40, 30) == pytest.approx(28.5)


# NIOSH 2016-106, seen and arithmetic: 180 and 415 W, exposure limit, then alert limit.
@pytest.mark.parametrize(
    ("watts", "exposure_c", "alert_c"), [(180, 30.76, 28.10), (415, 26.59, 22.99)]
)
def test_limits_of_wbgt(watts: float, exposure_c: float, alert_c: float) -> None:
    alert, exposure = wet_bulb.limits_c(watts)
    assert exposure == pytest.approx(exposure_c, abs=0.01)
    assert alert == pytest.approx(alert_c, abs=0.01)


# The Australian Bureau of Meteorology's approximation at 30 C and 50 %, computed with thermofeel: 29.26 C.
def test_estimated_wbgt() -> None:
    assert wet_bulb.estimate_c(30, 50) == pytest.approx(29.26, abs=0.02)


# From the definitions: shade takes the sun off, and the estimate is for sun; damper or warmer air is never milder.
@settings(deadline=None)
@given(
    air_c=st.floats(15, 45),
    rh=st.floats(10, 95),
    warmer=st.floats(0, 10),
    damper=st.floats(0, 4),
)
def test_wbgt_keeps_its_order(
    air_c: float, rh: float, warmer: float, damper: float
) -> None:
    found = wet_bulb.estimate_c(air_c, rh)
    assert wet_bulb.shade_c(air_c, rh) < found
    assert wet_bulb.estimate_c(air_c + warmer, rh + damper) >= found - 1e-9


# By the limits above, 300 W is 24.97 C for people not used to heat and 28.21 C for those who are (arithmetic).
@pytest.mark.parametrize(
    ("air_f", "rh", "wanted"),
    [(68, 60, None), (77, 60, (0, False)), (88, 60, (15, True))],
)
def test_care_by_wbgt(air_f: float, rh: float, wanted: tuple[int, bool] | None) -> None:
    found = strain.heat(f_to_c(air_f), rh, Strain(), "wbgt")
    asked = None if found is None else (found.rest_minutes, found.high)
    assert asked == wanted


def test_unknown_humidity_counts_as_saturated() -> None:
    unknown = strain.heat(f_to_c(80), None, Strain(), "wbgt")
    wet = strain.heat(f_to_c(80), 100, Strain(), "wbgt")
    assert unknown is not None
    assert wet is not None
    assert (unknown.rest_minutes, unknown.wbgt_c) == (wet.rest_minutes, wet.wbgt_c)
    assert unknown.index_c is None
