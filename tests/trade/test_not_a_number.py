"""What is no number, no place, no time or nobody: each function says so, or says unknown; none takes it for fine."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from math import isnan, nan

import pytest

from dispatch.trade import cure, film, labour, mixing, numbers, shade, strain, sun
from dispatch.trade import wet_bulb as wet
from dispatch.trade.buffer import Load
from dispatch.trade.cure import Surface
from dispatch.trade.shade import Hull
from dispatch.trade.sky import Site

NOON = datetime(2027, 5, 24, 12, tzinfo=UTC)
NAIVE = NOON.replace(tzinfo=None)
HOUR = timedelta(hours=1)
LIMITS = strain.Strain()
LAYING = mixing.Laying(product_ml=100, coats=2, coat_minutes=10, between_minutes=5)


def warm(*hourly_c: float) -> Surface:
    return Surface(start=NOON, hourly_c=hourly_c)


def coat(coats: int, waste: float) -> float:
    return film.product_ml(9, coats=coats, waste=waste, coverage=film.Coverage())


REFUSED: dict[str, Callable[[], object]] = {
    "film set in less than no time": lambda: cure.set_at(warm(20, 20), NOON, -1, 10),
    "heat of unknown air": lambda: strain.heat(nan, 50, LIMITS),
    "cold of unknown air": lambda: strain.cold(nan, 5, LIMITS),
    "wet bulb of unknown humidity": lambda: wet.wet_bulb_c(20, nan),
    "wet bulb beyond saturated air": lambda: wet.wet_bulb_c(20, 101),
    "work of no watts": lambda: wet.limits_c(0),
    "sun at no zone's time": lambda: sun.position(44, -69, NAIVE),
    "suns at no zone's times": lambda: sun.series(44, -69, [NAIVE]),
    "beyond the pole": lambda: Site(lat=90.1, lon=0, zone="UTC"),
    "no longitude": lambda: Site(lat=44, lon=nan, zone="UTC"),
    "no heading": lambda: Hull(
        heading_true_deg=shade.true_heading(nan, -15.5, "magnetic")
    ),
    "film on nothing": lambda: film.wet_um(10, 0),
    "film of nothing": lambda: film.spread_m2_per_l(0, 50),
    "cans of nothing": lambda: film.packs_to_buy(100, 0, 0),
    "cans for an unknown need": lambda: film.packs_to_buy(nan, 0, 10),
    "fewer coats than none": lambda: coat(-1, 1),
    "unknown waste": lambda: coat(1, nan),
    "nobody's hands": lambda: labour.worth(0, labour.Rates()),
    "unknown pot life": lambda: mixing.batch(LAYING, nan),
}


@pytest.mark.parametrize("asked", REFUSED.values(), ids=REFUSED.keys())
def test_it_is_refused_in_a_sentence(asked: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"^[A-Z].+\.$"):
        asked()


def test_film_over_an_hour_nobody_knows_is_not_set() -> None:
    assert cure.set_at(warm(20, nan, 20, 20, 20, 20), NOON, 3, 10) is None
    assert isnan(cure.rate(nan, 10))
    assert isnan(cure.rate(20, nan))
    assert isnan(cure.gained_ref_h(warm(20, nan), NOON, NOON + 2 * HOUR, 10))


def test_film_laid_in_no_known_hour_is_not_set_and_none_before_it_is_laid() -> None:
    laid = [NOON - HOUR, NOON, NOON + 9 * HOUR]
    assert cure.set_series(warm(20, 20), laid, 0, 10) == [None, NOON, None]


def test_a_wait_for_a_hull_of_unknown_warmth_is_unknown_and_not_the_shortest() -> None:
    assert isnan(cure.flash_minutes(25, nan))


def test_heat_and_cold_of_what_is_no_number_are_those_of_what_is_unknown() -> None:
    for rule in strain.RULES:
        assert strain.heat(32, nan, LIMITS, rule) == strain.heat(32, None, LIMITS, rule)
    assert strain.cold(1, nan, LIMITS) == strain.cold(1, None, LIMITS)


def test_a_day_whose_hours_are_no_number_is_too_full() -> None:
    load = Load(planned_minutes=nan, late_minutes=nan, there_minutes=480)
    assert load.too_full(0.85, 1.05)


def test_a_heading_a_hair_below_north_is_north() -> None:
    found = shade.true_heading(0.3, -0.1 - 0.1 - 0.1, "magnetic")
    assert Hull(heading_true_deg=found).heading_true_deg == 0


def test_a_number_in_another_script_is_none_of_the_us() -> None:
    assert numbers.vessel_groups("DC ٥٦٧٨ EF") == ()
