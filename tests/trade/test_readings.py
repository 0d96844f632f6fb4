"""What was read on a hull goes before the model, for as long as it counts.

Spread of 5 F: common practice. Dew points: Magnus by Lawrence 2005, Bull. Amer. Meteor. Soc. 86(2), 225; 64 F and
78 % give 57.0 F by it. Four hours: how often MIL-HDBK-1110, 9.6.6, has the weather measured.
"""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade import samples
from dispatch.trade.readings import HullReading
from dispatch.trade.sky import Sky, SkyHour
from dispatch.trade.spans import Span
from dispatch.trade.units import c_to_f, dk_to_df, f_to_c, mph_to_ms
from dispatch.trade.window import judge, vetoes
from dispatch.trade.work import Veto, Work
from tests.trade.lanternglass import ONE_PART, SITE, ZONE

NY = ZoneInfo(ZONE)
TEN = datetime(2027, 5, 25, 10, tzinfo=NY)
DAY = Span(TEN - timedelta(hours=2), TEN + timedelta(hours=10))


def steady(**changes: float) -> Sky:
    """Air 64 F and 78 % all day and the next, overcast: a dew point of 57.0 F."""
    given = {
        "air_c": f_to_c(64),
        "dew_c": f_to_c(57.0),
        "rh_pct": 78.0,
        "wind_ms": mph_to_ms(3),
        "gust_ms": mph_to_ms(5),
        "from_deg": 200.0,
        "cloud_pct": 90.0,
        "rain_mm": 0.0,
        "rain_prob_pct": 0.0,
    } | changes
    start = DAY.start - timedelta(hours=3)
    hours = (SkyHour(at=start + timedelta(hours=h), **given) for h in range(60))
    return Sky(hours=tuple(hours), issued_at=start)


def work(*readings: HullReading) -> Work:
    return Work(
        family="spray",
        site=SITE,
        quickest_minutes=60,
        sheet=ONE_PART,
        readings=readings,
    )


def against(own: Work, at: datetime, sky: Sky | None = None) -> dict[str, Veto]:
    span = Span(at, at + timedelta(minutes=60))
    found = judge(span, vetoes(own, sky or steady(), DAY))
    return {veto.code: veto for veto in found if veto.edge == "during"}


def test_a_hull_read_colder_than_the_air_is_no_go_by_its_spread() -> None:
    """Air 64 F, 78 %, hull 61 F: the dew point is 57.0 F and the spread 4.0 F, where 5 F is asked for."""
    read = HullReading(at=TEN, surface_c=f_to_c(61), air_c=f_to_c(64), rh_pct=78)
    assert "spread" not in against(work(), TEN)
    veto = against(work(read), TEN)["spread"]
    assert c_to_f(veto.numbers["surface_c"]) == pytest.approx(61, abs=0.05)
    assert c_to_f(veto.numbers["dew_c"]) == pytest.approx(57.0, abs=0.1)
    assert dk_to_df(veto.numbers["spread_k"]) == pytest.approx(4.0, abs=0.1)
    assert veto.strength == "wall"
    assert "surface 61 °F (read 10:00)" in veto.sentence


def test_a_hull_read_warmer_than_a_cold_model_may_be_sprayed() -> None:
    damp = steady(dew_c=f_to_c(60))
    assert "spread" in against(work(), TEN, damp)
    read = HullReading(at=TEN, surface_c=f_to_c(66))
    assert "spread" not in against(work(read), TEN, damp)


def test_a_reading_counts_for_four_hours_and_not_before_it_was_taken() -> None:
    read = HullReading(at=TEN, surface_c=f_to_c(61))
    moments = {-65: False, 0: True, 180: True, 245: False}
    for minutes, fails in moments.items():
        at = TEN + timedelta(minutes=minutes)
        assert ("spread" in against(work(read), at)) is fails, minutes


def test_the_newest_reading_counts() -> None:
    cold = HullReading(at=TEN, surface_c=f_to_c(61))
    warm = HullReading(at=TEN + timedelta(minutes=30), surface_c=f_to_c(64))
    assert "spread" in against(work(cold, warm), TEN - timedelta(minutes=30))
    assert "spread" not in against(work(cold, warm), TEN + timedelta(minutes=30))


def test_humidity_and_air_that_were_read_go_before_the_forecast() -> None:
    read = HullReading(at=TEN, rh_pct=84)
    assert "humid" in against(work(read), TEN)
    hot = HullReading(at=TEN, air_c=f_to_c(90))
    assert "air-hot" in against(work(hot), TEN)


def test_where_only_the_air_was_read_the_hull_follows_it() -> None:
    cold = HullReading(at=TEN, air_c=f_to_c(60))
    veto = against(work(cold), TEN)["spread"]
    assert c_to_f(veto.numbers["surface_c"]) == pytest.approx(60, abs=0.05)
    assert "(read" not in veto.sentence


def test_a_reading_makes_no_forecast_out_of_none() -> None:
    read = HullReading(at=TEN, surface_c=f_to_c(70), air_c=f_to_c(70), rh_pct=40)
    nothing = Sky(hours=(), issued_at=TEN)
    assert "unknown" in against(work(read), TEN, nothing)


def test_a_hull_read_cold_sets_later() -> None:
    read = HullReading(at=TEN, surface_c=f_to_c(55))
    plain, moved = (samples.surface(one, steady()) for one in (work(), work(read)))
    colder = [
        plain.start + timedelta(hours=index)
        for index, (a, b) in enumerate(zip(plain.hourly_c, moved.hourly_c, strict=True))
        if b < a
    ]
    assert len(colder) == 4
    assert min(colder) == TEN


def test_a_reading_of_nothing_or_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a number"):
        HullReading(at=TEN)
    with pytest.raises(ValueError, match="with a zone"):
        HullReading(at=datetime(2027, 5, 25, 10), surface_c=20)  # noqa: DTZ001 - the fault that is tried
