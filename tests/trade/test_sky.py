"""A sky at a place: sheltered, colder by night, and unknown where nothing is said."""

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade.sky import Sky, SkyHour, local
from tests.trade.lanternglass import SITE, ZONE

NY = ZoneInfo(ZONE)
NOON = datetime(2027, 5, 26, 12, tzinfo=NY)
MIDNIGHT = datetime(2027, 5, 26, 0, tzinfo=NY)


def one(at: datetime) -> Sky:
    hour = SkyHour(at=at, air_c=10, dew_c=9, wind_ms=4, gust_ms=8)
    return Sky(hours=(hour,), issued_at=at)


def test_wind_and_gust_are_sheltered_alike() -> None:
    (hour,) = local(one(NOON), replace(SITE, wind_factor=0.55)).hours
    assert hour.wind_ms == pytest.approx(2.2)
    assert hour.gust_ms == pytest.approx(4.4)


@pytest.mark.parametrize(("at", "air_c"), [(NOON, 11.0), (MIDNIGHT, 7.0)])
def test_air_shifts_by_day_and_by_night(at: datetime, air_c: float) -> None:
    site = replace(SITE, day_offset_k=1.0, night_offset_k=-3.0)
    (hour,) = local(one(at), site).hours
    assert hour.air_c == pytest.approx(air_c)


def test_dew_point_never_stands_above_the_air() -> None:
    (hour,) = local(one(MIDNIGHT), replace(SITE, night_offset_k=-3.0)).hours
    assert hour.dew_c == hour.air_c


def test_what_is_unknown_stays_unknown() -> None:
    empty = Sky(hours=(SkyHour(at=NOON),), issued_at=NOON)
    (hour,) = local(empty, replace(SITE, wind_factor=0.5, day_offset_k=2.0)).hours
    assert hour.air_c is None
    assert hour.gust_ms is None


def test_an_hour_holds_its_start_and_not_its_end() -> None:
    sky = one(NOON)
    assert sky.hour(NOON) is not None
    assert sky.hour(NOON + timedelta(hours=1)) is None


def test_hours_out_of_order_or_told_twice_are_refused() -> None:
    hour = SkyHour(at=NOON)
    with pytest.raises(ValueError, match="in order, each once"):
        Sky(hours=(hour, hour), issued_at=NOON)
