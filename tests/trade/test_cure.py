"""The cure clock on the demo week: when film is rain-safe and when it can be sanded."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.trade import cure, samples
from dispatch.trade.cure import REFERENCE_C, Surface
from dispatch.trade.units import f_to_c
from dispatch.trade.work import Work
from tests.trade.lanternglass import ONE_PART, SITE, TWO_PART, ZONE, near, sky

NY = ZoneInfo(ZONE)
ISSUED = datetime(2027, 5, 23, 18, tzinfo=NY)
SHEETS = {"one": ONE_PART, "two": TWO_PART}
COLD_NIGHT_F = (
    *(62, 60, 58, 56, 54, 52, 50, 49, 48, 47, 46, 46, 47, 49, 52, 56, 60, 63, 65),
    *(66, 66, 65, 63, 60, 57, 54, 52, 50, 48, 47, 46, 45, 45, 46, 49, 53, 57, 61),
)


def week() -> Surface:
    """The hull's temperature through the demo week, in shade."""
    work = Work(family="spray", site=SITE, quickest_minutes=90)
    surface = samples.surface(work, sky("weather_as_it_happened", ISSUED))
    assert surface is not None
    return surface


def at(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 5, day, hour, minute, tzinfo=NY)


# Worked out by a program that shares no code with this one.
@pytest.mark.parametrize(
    ("sheet", "end", "rain_safe", "sandable"),
    [
        ("one", at(24, 11, 30), at(24, 16, 38), at(25, 17, 22)),
        ("one", at(24, 13, 30), at(24, 18, 31), at(25, 19, 30)),
        ("one", at(24, 16, 45), at(25, 9, 11), at(26, 0, 17)),
        ("one", at(26, 9), at(26, 15, 42), at(27, 9, 52)),
        ("one", at(28, 11), at(28, 14, 47), at(29, 2, 18)),
        ("one", at(29, 10), at(29, 13, 37), at(29, 23, 53)),
        ("two", at(24, 11, 30), at(24, 19, 19), at(25, 17, 51)),
        ("two", at(24, 15), at(25, 6, 51), at(25, 22, 16)),
        ("two", at(28, 11), at(28, 16, 27), at(29, 5, 55)),
    ],
)
def test_film_of_the_demo_week_sets_by_its_own_clock(
    sheet: str, end: datetime, rain_safe: datetime, sandable: datetime
) -> None:
    product = SHEETS[sheet]
    for ref_h, wanted in (
        (product.rain_safe_ref_h, rain_safe),
        (product.sandable_ref_h, sandable),
    ):
        assert ref_h is not None
        assert near(cure.set_at(week(), end, ref_h, product.cure_min_c), wanted)


def test_decals_wait_six_hours_of_cure_after_sandable() -> None:
    refit = 14 + ONE_PART.refit_extra_ref_h
    found = cure.set_at(week(), at(28, 11), refit, ONE_PART.cure_min_c)
    assert near(found, at(29, 10, 58))


def test_a_cold_night_stops_the_clock() -> None:
    start = datetime(2027, 5, 24, 19, tzinfo=UTC)
    surface = Surface(start=start, hourly_c=tuple(map(f_to_c, COLD_NIGHT_F)))
    found = cure.set_at(surface, start, 14, f_to_c(50))
    assert near(found, start + timedelta(hours=35.8))


# Elapsed hours: the night loses an hour in March and gains one in November, New York.
@pytest.mark.parametrize(
    ("start", "end"),
    [
        (datetime(2027, 11, 6, 18, tzinfo=NY), datetime(2027, 11, 7, 7, tzinfo=NY)),
        (datetime(2027, 3, 13, 18, tzinfo=NY), datetime(2027, 3, 14, 9, tzinfo=NY)),
    ],
)
def test_a_hold_is_elapsed_time_over_a_clock_change(
    start: datetime, end: datetime
) -> None:
    surface = Surface(start=start, hourly_c=(REFERENCE_C,) * 30)
    found = cure.set_at(surface, start, 14, f_to_c(50))
    assert found == end.astimezone(UTC)


def test_the_range_is_earlier_when_warmer_and_later_when_colder() -> None:
    found = cure.set_range(week(), at(28, 11), 14, ONE_PART.cure_min_c)
    assert found.earliest is not None
    assert found.expected is not None
    assert found.latest is not None
    assert found.earliest < found.expected < found.latest


def test_measured_hours_have_no_range() -> None:
    known = Surface(
        start=at(28, 11),
        hourly_c=(REFERENCE_C,) * 20,
        known_until=at(28, 11) + timedelta(hours=20),
    )
    found = cure.set_range(known, at(28, 11), 14, ONE_PART.cure_min_c)
    assert found.earliest == found.expected == found.latest == at(29, 1)


@pytest.mark.parametrize(("air_f", "minutes"), [(62, 34.0), (57, 41.2), (80, 17.0)])
def test_flash_is_longer_in_the_cold(air_f: float, minutes: float) -> None:
    assert cure.flash_minutes(25, f_to_c(air_f)) == pytest.approx(minutes, abs=0.1)


def test_flash_stays_between_a_quarter_and_a_whole_hour() -> None:
    assert cure.flash_minutes(25, f_to_c(95)) == 15
    assert cure.flash_minutes(25, f_to_c(40)) == 60


@pytest.mark.parametrize(("air_f", "minutes"), [(70, 180), (79, 127), (52, 360)])
def test_mixed_two_part_lasts_half_as_long_18_f_warmer(
    air_f: float, minutes: float
) -> None:
    assert cure.pot_life_minutes(3, f_to_c(air_f)) == pytest.approx(minutes, abs=0.5)


def test_film_hotter_than_90_f_sets_no_faster() -> None:
    assert cure.rate(f_to_c(120), 10) == cure.rate(f_to_c(90), 10)


def test_film_laid_outside_the_known_hours_is_refused() -> None:
    with pytest.raises(ValueError, match="No surface temperature is known"):
        cure.set_at(week(), at(20, 11), 4, ONE_PART.cure_min_c)
