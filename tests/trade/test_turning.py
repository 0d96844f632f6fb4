"""The heading that leaves both sides shade for a whole coat: common practice of the trade, by the sun alone."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade import shade, turning
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Obstacle, Site
from dispatch.trade.spans import Span
from tests.trade.lanternglass import SITE, ZONE

COATS = turning.Coats(
    slot_minutes={"port": 95, "starboard": 95}, rest_minutes=20, flare_deg=12
)


def days(month: int, first: int, count: int = 1, zone: str = ZONE) -> list[Span]:
    local = ZoneInfo(zone)
    return [
        Span(
            datetime(2027, month, day, 7, 30, tzinfo=local),
            datetime(2027, month, day, 19, tzinfo=local),
        )
        for day in range(first, first + count)
    ]


def off_north_south(heading: float) -> float:
    return abs((heading + 90) % 180 - 90)


def test_a_boat_that_heads_west_in_may_cannot_be_done_in_a_day_and_turned_she_can() -> (
    None
):
    day = days(5, 28)
    lying, turned = turning.lie(SITE, 265, COATS, day), turning.best(SITE, COATS, day)
    assert (lying.whole_days, lying.panel_days) == (0, 1)
    assert turned.whole_days == 1
    assert off_north_south(turned.heading_true_deg) <= 25
    assert turning.is_worth(turned, lying, 45)


def test_in_september_an_east_heading_has_no_day_for_both_sides_and_a_north_one_has() -> (
    None
):
    day = days(9, 15)
    assert turning.lie(SITE, 90, COATS, day).whole_days == 0
    assert turning.lie(SITE, 0, COATS, day).whole_days == 1
    assert off_north_south(turning.best(SITE, COATS, day).heading_true_deg) <= 20


def test_south_of_the_line_the_best_heading_serves_as_well() -> None:
    site = Site(lat=-43.53, lon=172.63, zone="Pacific/Auckland")
    week = days(1, 15, 3, "Pacific/Auckland")
    lying, turned = turning.lie(site, 90, COATS, week), turning.best(site, COATS, week)
    assert turned.whole_days == 3 > lying.whole_days


def test_a_coat_begun_at_any_minute_it_may_be_begun_lies_in_shade_as_a_whole() -> None:
    day = days(5, 28)
    found = turning.best(SITE, COATS, day)
    hull = Hull(heading_true_deg=found.heading_true_deg)
    for panel, span in found.first.items():
        for moment in (span.start, span.end - timedelta(minutes=1)):
            slot = Span(moment, moment + timedelta(minutes=COATS.slot_minutes[panel]))
            assert shade.shaded_through(SITE, hull, panel, slot)
            rested = Span(moment - timedelta(minutes=20), moment)
            assert shade.shaded_through(SITE, hull, panel, rested)


def test_no_other_heading_of_the_compass_has_more_whole_days() -> None:
    week = days(8, 1, 2)
    found = turning.best(SITE, COATS, week)
    others = [turning.lie(SITE, float(deg), COATS, week) for deg in range(0, 360, 15)]
    assert all(other.worth <= found.worth for other in others)


def test_a_turn_that_saves_neither_a_day_nor_three_quarters_of_an_hour_is_not_worth_it() -> (
    None
):
    day = days(5, 28)
    lying, turned = turning.lie(SITE, 0, COATS, day), turning.best(SITE, COATS, day)
    assert turned.worth >= lying.worth
    assert not turning.is_worth(turned, lying, 45)


def test_what_is_saved_in_waiting_is_told_in_minutes() -> None:
    day = days(5, 28)
    late, early = turning.lie(SITE, 45, COATS, day), turning.lie(SITE, 315, COATS, day)
    saved = early.waits_less_minutes(late)
    assert saved == late.done_minutes[0] - early.done_minutes[0] > 45
    assert turning.is_worth(early, late, 45)


def test_a_heading_nobody_read_makes_any_that_serves_worth_it() -> None:
    assert turning.is_worth(turning.best(SITE, COATS, days(5, 28)), None, 45)


def test_behind_trees_all_round_every_heading_serves_and_none_is_worth_a_turn() -> None:
    wood = Site(
        lat=44.1,
        lon=-69.1,
        zone=ZONE,
        obstacles=(Obstacle(az_from_deg=0, az_to_deg=359.9, elevation_deg=89),),
    )
    day = days(5, 28)
    lying = turning.lie(wood, 265, COATS, day)
    assert lying.whole_days == 1
    assert not turning.is_worth(turning.best(wood, COATS, day), lying, 45)


def test_a_slot_longer_than_the_hours_of_the_day_fits_nowhere() -> None:
    long = turning.Coats(
        slot_minutes={"port": 800, "starboard": 800}, rest_minutes=20, flare_deg=12
    )
    found = turning.best(SITE, long, days(5, 28))
    assert found.panel_days == 0
    assert not found.first


def test_coats_that_take_no_time_are_refused() -> None:
    with pytest.raises(ValueError, match="coats that last"):
        turning.Coats(slot_minutes={}, rest_minutes=20, flare_deg=12)
