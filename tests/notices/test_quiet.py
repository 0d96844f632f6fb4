"""Nobody is written to at night, by their own clock; a warning of wet film has longer hours."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dispatch.notices.quiet import Hours, next_allowed
from dispatch.notices.reasons import Reason

NY = ZoneInfo("America/New_York")
LA = ZoneInfo("America/Los_Angeles")
USUAL = [Reason.ARRIVAL, Reason.MOVED, Reason.PICKUP]


def at(day: int, hour: int, minute: int = 0, zone: ZoneInfo = NY) -> datetime:
    return datetime(2027, 5, day, hour, minute, tzinfo=zone)


@pytest.mark.parametrize("reason", USUAL)
@pytest.mark.parametrize(
    ("asked", "allowed"),
    [
        (at(24, 8), at(24, 8)),
        (at(24, 20, 29), at(24, 20, 29)),
        (at(24, 7, 59), at(24, 8)),
        (at(24, 0), at(24, 8)),
        (at(24, 20, 30), at(25, 8)),
        (at(24, 23, 59), at(25, 8)),
    ],
)
def test_usual_hours_are_eight_to_half_past_eight(
    reason: Reason, asked: datetime, allowed: datetime
) -> None:
    assert next_allowed(reason, asked, NY) == allowed


@pytest.mark.parametrize(
    ("asked", "allowed"),
    [
        (at(24, 6, 59), at(24, 7)),
        (at(24, 7), at(24, 7)),
        (at(24, 20, 59), at(24, 20, 59)),
        (at(24, 21), at(25, 7)),
    ],
)
def test_wet_film_is_told_from_seven_to_nine(
    asked: datetime, allowed: datetime
) -> None:
    assert next_allowed(Reason.FILM_WET, asked, NY) == allowed


def test_the_customers_clock_counts_not_the_outfits() -> None:
    assert next_allowed(Reason.ARRIVAL, at(24, 17), LA) == at(24, 14, zone=LA)
    assert next_allowed(Reason.ARRIVAL, at(24, 8), LA) == at(24, 11)


@pytest.mark.parametrize(
    ("evening", "hours_to_wait"),
    [
        (datetime(2027, 3, 13, 21, tzinfo=NY), 10),
        (datetime(2027, 11, 6, 21, tzinfo=NY), 12),
        (datetime(2027, 5, 24, 21, tzinfo=NY), 11),
    ],
)
def test_a_night_in_which_the_clocks_change_is_as_long_as_it_is(
    evening: datetime, hours_to_wait: int
) -> None:
    allowed = next_allowed(Reason.PICKUP, evening, NY)
    assert allowed - evening.astimezone(UTC) == timedelta(hours=hours_to_wait)
    assert allowed.astimezone(NY).time() == time(8)


def test_an_outfit_may_set_hours_of_its_own() -> None:
    hours = Hours(opens=time(9), closes=time(20))
    assert next_allowed(Reason.FILM_WET, at(24, 8), NY, hours) == at(24, 9)


@given(
    st.datetimes(
        min_value=datetime(2026, 1, 1),  # noqa: DTZ001 - the strategy adds the zone
        max_value=datetime(2028, 1, 1),  # noqa: DTZ001 - the strategy adds the zone
        timezones=st.just(UTC),
    ),
    st.sampled_from(list(Reason)),
    st.sampled_from([NY, LA, ZoneInfo("Asia/Kolkata"), ZoneInfo("Pacific/Chatham")]),
)
def test_it_is_never_earlier_at_most_a_night_later_and_always_allowed(
    asked: datetime, reason: Reason, zone: ZoneInfo
) -> None:
    allowed = next_allowed(reason, asked, zone)
    assert asked <= allowed <= asked + timedelta(hours=13)
    assert next_allowed(reason, allowed, zone) == allowed
    assert time(7) <= allowed.astimezone(zone).time() < time(21)


def test_a_moment_without_a_zone_and_hours_turned_round_are_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        next_allowed(Reason.ARRIVAL, datetime(2027, 5, 24, 9), NY)  # noqa: DTZ001 - the mistake
    with pytest.raises(ValueError, match="close after they open"):
        Hours(opens=time(21), closes=time(7))
