"""Orders in time: two working days of the supplier's, half a day to spare, orders until noon [assumptions of the house]."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade import film, stock, units

NY = ZoneInfo("America/New_York")


def at(day: int, clock: str, month: int = 5) -> datetime:
    hour, minute = map(int, clock.split(":"))
    return datetime(2027, month, day, hour, minute, tzinfo=NY)


LATE = time(23, 59)


def by(needed: datetime, cutoff: time = LATE) -> datetime:
    return stock.order_by(needed, NY, lead_days=2, spare_hours=12, cutoff=cutoff)


def test_what_is_short_on_thursday_morning_is_ordered_by_monday_evening() -> None:
    assert by(at(27, "08:00")) == at(24, "20:00")


@pytest.mark.parametrize(
    ("needed", "ordered"),
    [
        # Two working days and half a day before: Monday 20:00, after the supplier's noon.
        (at(27, "08:00"), at(24, "12:00")),
        # Monday 09:00, when Monday's orders are still taken.
        (at(26, "21:00"), at(24, "09:00")),
        # Sunday 20:00: nobody is there; Saturday and Friday afternoon are no better.
        (at(26, "08:00"), at(21, "12:00")),
    ],
)
def test_it_is_ordered_before_the_suppliers_last_hour(needed, ordered) -> None:
    assert by(needed, time(12)) == ordered


@pytest.mark.parametrize(
    ("needed", "ordered"),
    [(at(24, "08:00"), at(19, "20:00")), (at(25, "08:00"), at(20, "20:00"))],
)
def test_a_supplier_does_not_work_at_the_weekend(needed, ordered) -> None:
    assert by(needed) == ordered


def test_over_a_clock_change_the_hour_on_the_wall_holds_for_the_days() -> None:
    """Clocks go forward on Sunday, 14 March 2027 (15 USC 260a)."""
    assert by(at(16, "08:00", month=3)) == at(11, "20:00", month=3)
    assert date(2027, 3, 14).weekday() == 6


def test_half_a_working_day_counts_by_its_hours() -> None:
    found = stock.order_by(
        at(27, "08:00"), NY, lead_days=1.5, spare_hours=0, cutoff=LATE
    )
    assert found == at(26, "08:00") - timedelta(hours=12)


def test_47_ounces_short_are_two_cans_and_an_old_open_can_counts_for_nothing() -> None:
    """Four sealed cans of 32 oz; 20 oz opened 34 days ago are past their 30 days; the week takes 175 oz."""
    can = units.oz_to_ml(32)
    assert film.packs_to_buy(units.oz_to_ml(175), 4 * can, can) == 2
    assert (
        film.packs_to_buy(units.oz_to_ml(175), 4 * can + units.oz_to_ml(20), can) == 1
    )
