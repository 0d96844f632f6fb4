"""Heat, cold and the rest they ask for, against published formulas and legal defaults (never advice).

Legal rows are as read on the page; they change, and each is a setting. California's high heat holds for listed
industries only; its trigger is the air. Maryland's and Oregon's trigger is the heat index.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade import strain
from dispatch.trade.strain import Strain
from dispatch.trade.units import c_to_f, f_to_c

LIMITS = Strain()
# By the metric form of the same service, in which the wind is in km/h.
KMH_MS = 1 / 3.6


def rest(air_f: float, rh: float) -> tuple[int, int] | None:
    found = strain.heat(f_to_c(air_f), rh, LIMITS)
    return None if found is None else (found.rest_minutes, found.every_minutes)


# The US National Weather Service's wind chill in metric form, computed with thermofeel: -19.52 C.
def test_wind_chill_in_metric_units() -> None:
    found = strain.wind_chill_c(-10, 30 * KMH_MS)
    assert found == pytest.approx(-19.52, abs=0.06)


# From memory, not verified: the formula holds up to 50 F and above 3 mph only.
@pytest.mark.parametrize(("air_c", "wind_ms"), [(10.1, 8.0), (4.0, 1.34)])
def test_no_wind_chill_outside_the_formula(air_c: float, wind_ms: float) -> None:
    assert strain.wind_chill_c(air_c, wind_ms) is None


# The equation page's adjustment for dry air, computed with MetPy and thermofeel: 31.914 C.
def test_heat_index_in_metric_units() -> None:
    assert strain.heat_index_c(35, 10) == pytest.approx(31.914, abs=0.01)


# California, 8 CCR 3395: shade above 80 F of air, high heat from 95 F. Read on the page.
def test_shade_and_high_heat_by_the_air() -> None:
    assert strain.heat(f_to_c(80), 20, LIMITS) is None
    shade = strain.heat(f_to_c(81), 20, LIMITS)
    assert shade is not None
    assert not shade.high
    high = strain.heat(f_to_c(95), 10, LIMITS)
    assert high is not None
    assert high.high


# Maryland, COMAR 09.12.32.08: begins at an index of 80; 10 min in 2 h from 90 to 100; 15 min an hour above,
# 100 itself taken as the stricter. Oregon, OAR 437-002-0156: begins at 80. Read on the page. The chart gives
# 86 F at 65 % an index of 93 and 88 F at 75 % one of 103.
@pytest.mark.parametrize(
    ("air_f", "rh", "wanted"),
    [(79, 40, None), (80, 60, (0, 60)), (86, 65, (10, 120)), (87, 80, (15, 60))],
)
def test_rest_by_the_heat_index(
    air_f: float, rh: float, wanted: tuple[int, int] | None
) -> None:
    assert rest(air_f, rh) == wanted


# An assumption of this house: from 88 F of air on, 10 min in every hour, however dry.
def test_rest_by_the_air() -> None:
    assert rest(88, 15) == (10, 60)
    assert rest(87.9, 15) == (0, 60)


def test_unknown_humidity_and_wind_are_no_reprieve() -> None:
    hot = strain.heat(f_to_c(92), None, LIMITS)
    assert hot is not None
    assert hot.index_c is None
    assert (hot.rest_minutes, hot.every_minutes) == (10, 60)
    cool = strain.cold(f_to_c(40), None, LIMITS)
    assert cool is not None
    assert cool.chill_c is None
    assert strain.cold(f_to_c(40), 0.0, LIMITS) is None


@settings(deadline=None)
@given(
    air_f=st.floats(60, 115),
    more_f=st.floats(0, 20),
    rh=st.floats(5, 95),
    wetter=st.floats(0, 5),
)
def test_more_heat_never_asks_for_less(
    air_f: float, more_f: float, rh: float, wetter: float
) -> None:
    less, more = rest(air_f, rh), rest(air_f + more_f, rh)
    share = [0.0 if found is None else found[0] / found[1] for found in (less, more)]
    assert share[0] <= share[1]
    assert (less is None) or (more is not None)


# Where it blows as hard or harder it is never milder, and the chill is never above the air.
@settings(deadline=None)
@given(air_f=st.floats(-20, 50), wind_ms=st.floats(1.4, 20), more=st.floats(0, 10))
def test_wind_only_chills(air_f: float, wind_ms: float, more: float) -> None:
    calm = strain.wind_chill_c(f_to_c(air_f), wind_ms)
    windy = strain.wind_chill_c(f_to_c(air_f), wind_ms + more)
    assert calm is not None
    assert windy is not None
    assert windy <= calm + 1e-9
    assert c_to_f(calm) <= air_f + 1.0


# Triggers by rule set: California, 8 CCR 3395, goes by the air alone (80 and 95 F); Maryland, COMAR 09.12.32.08, and
# Oregon, OAR 437-002-0156, by the heat index alone (80, 90, 100 F); read on their pages. Just on 100 the stricter.
@pytest.mark.parametrize(
    ("air_f", "rh", "rule", "asked"),
    [
        (82, 20, "air", True),
        (82, 20, "index", False),  # the index is 80 or less in dry air
        (79, 90, "air", False),
        (79, 90, "index", True),
        (80, 40, "air", False),  # above 80, not on it
        (95, 10, "air", True),
    ],
)
def test_each_rule_goes_by_its_own_number(air_f, rh, rule, asked):
    found = strain.heat(f_to_c(air_f), rh, strain.Strain(), rule)
    assert (found is not None) is asked


def test_the_stricter_asks_where_either_does():
    limits = strain.Strain()
    for air_f in range(70, 105, 5):
        for rh in (10, 40, 70, 95):
            by = [
                strain.heat(f_to_c(air_f), rh, limits, rule)
                for rule in ("air", "index", "stricter")
            ]
            assert (by[2] is not None) == (by[0] is not None or by[1] is not None)


def test_high_heat_by_the_air_alone_is_95_degrees_whatever_the_humidity():
    limits = strain.Strain()
    assert not strain.heat(f_to_c(94), 90, limits, "air").high
    assert strain.heat(f_to_c(95), 10, limits, "air").high
    assert not strain.heat(f_to_c(95), 10, limits, "index").high


def test_by_the_index_alone_unknown_humidity_is_no_reprieve():
    assert strain.heat(f_to_c(85), None, strain.Strain(), "index") is not None


def test_there_is_no_other_rule():
    with pytest.raises(ValueError, match="stricter, air, index, wbgt"):
        strain.heat(30, 50, strain.Strain(), "wet-bulb")
