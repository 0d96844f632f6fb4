"""What air and sun make of a hull's surface."""

import pytest

from dispatch.trade.air import (
    SurfaceModel,
    dew_point_c,
    rh_pct,
    surface_c,
    wind_chill_f,
)
from dispatch.trade.units import c_to_f, dk_to_df, f_to_c

MODEL = SurfaceModel()


@pytest.mark.parametrize(("air_f", "rh", "dew_f"), [(64, 78, 57.0), (58, 92, 55.7)])
def test_dew_point_of_the_trades_examples(
    air_f: float, rh: float, dew_f: float
) -> None:
    assert c_to_f(dew_point_c(f_to_c(air_f), rh)) == pytest.approx(dew_f, abs=0.05)


def test_spread_is_taken_from_the_hull_and_not_from_the_air() -> None:
    dew = dew_point_c(f_to_c(64), 78)
    assert dk_to_df(f_to_c(61) - dew) == pytest.approx(4.0, abs=0.05)
    assert dk_to_df(f_to_c(64) - dew) == pytest.approx(7.0, abs=0.05)


@pytest.mark.parametrize(
    ("sun_up", "lit", "dark", "cloud", "above_air_f"),
    [
        (False, False, False, 10, -3),
        (False, False, True, 39, -3),
        (False, False, False, 40, 0),
        (False, False, False, None, -3),
        (True, False, False, 10, 0),
        (True, True, False, 10, 3),
        (True, True, True, 10, 12),
    ],
)
def test_a_hull_is_colder_on_clear_nights_and_hotter_in_the_sun(
    sun_up: bool, lit: bool, dark: bool, cloud: float | None, above_air_f: float
) -> None:
    found = surface_c(
        f_to_c(60), sun_up=sun_up, lit=lit, dark=dark, cloud_pct=cloud, model=MODEL
    )
    assert c_to_f(found) == pytest.approx(60 + above_air_f)


@pytest.mark.parametrize("rh", [0, -1, 101])
def test_an_impossible_humidity_is_refused(rh: float) -> None:
    with pytest.raises(ValueError, match="humidity lies above 0"):
        dew_point_c(20, rh)


def test_air_below_its_dew_point_is_saturated() -> None:
    assert rh_pct(10, 12) == 100


@pytest.mark.parametrize(("air_f", "wind_mph"), [(51, 20), (40, 3)])
def test_no_wind_chill_where_the_formula_does_not_hold(
    air_f: float, wind_mph: float
) -> None:
    assert wind_chill_f(air_f, wind_mph) is None
