"""Bounds by unit, by name, and pairs; the default itself always stands."""

import pytest

from dispatch.actions import bounds


@pytest.mark.parametrize(
    ("name", "value", "default", "fits"),
    [
        ("x.rh_max_pct", 100, 82, True),
        ("x.rh_max_pct", 100.1, 82, False),
        ("x.drift_m_per_ms", 900, 2, True),
        ("x.wind_max_ms", 61, 4, False),
        ("x.air_max_c", 1e6, 1e6, True),
        ("x.air_max_c", 9e5, 1e6, False),
        ("labour.float_work", 20, 1.3, True),
        ("labour.float_work", 20.5, 1.3, False),
    ],
)
def test_a_value_keeps_its_units_bounds(name, value, default, fits):
    standing = dict.fromkeys(
        ("x.rh_min_pct", "x.air_min_c", "x.wind_max_ms"), 0.0
    ) | dict.fromkeys(("x.gust_max_ms",), 100.0)
    assert (bounds.fault(name, value, standing, default) == "") is fits


def test_a_pair_turned_round_names_both_numbers():
    standing = {"x.air_min_c": 10.0, "x.air_max_c": 30.0}
    fault = bounds.fault("x.air_max_c", 9, standing, 30)
    assert "x.air_min_c (10)" in fault
    assert "x.air_max_c (9)" in fault
