"""Waits inside a visit: a washed hull dries 30 min, a deoxidised one 45, a medium fill is left 90 min at 70 F.

The minutes are the demo catalogue's, the sums are worked out by hand. That day one of a dull 20 ft boat with one medium
repair takes two people 7 h 30 of hands is the estimate of ``test_labour``; what it waits comes on top.
"""

from datetime import UTC, datetime, timedelta

import pytest

from dispatch.trade import cure, waiting
from dispatch.trade.labour import Rates, Step
from dispatch.trade.sky import Site, Sky, SkyHour
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from dispatch.trade.work import Work

RATES = Rates()
AT_70 = cure.REFERENCE_C
# A dull 20 ft boat: wash 100, strip 60, fill 60, deoxidise 180, scuff 80 labour-minutes.
WASH = Step(labour_minutes=100, hold_minutes=30)
STRIP = Step(labour_minutes=60, crew_max=2, meanwhile=True)
FILL = Step(labour_minutes=60, crew_max=2, hold_ref_minutes=90)
DEOXIDISE = Step(labour_minutes=180, crew_max=4, hold_minutes=45, meanwhile=True)
SCUFF = Step(labour_minutes=80)
PREP = (WASH, STRIP, FILL, DEOXIDISE, SCUFF)


def idle(*steps: Step, team: int = 2, hull_f: float = 70) -> float:
    return waiting.waits(steps, team, RATES, f_to_c(hull_f)).idle_minutes


def test_stripping_fills_the_wait_after_the_wash() -> None:
    """Two strip for 30 min, as long as she dries; three are no quicker at it, one is slower."""
    assert [idle(WASH, STRIP, SCUFF, team=team) for team in (1, 2, 3)] == [0, 0, 0]


def test_without_anything_to_do_meanwhile_the_whole_wait_is_idle() -> None:
    assert idle(WASH, SCUFF) == 30


def test_a_quicker_team_stands_still_longer() -> None:
    """Half the labels to strip: two take 15 min of the 30, one takes 30."""
    few = Step(labour_minutes=30, crew_max=2, meanwhile=True)
    assert [idle(WASH, few, SCUFF, team=team) for team in (1, 2)] == [0, 15]


def test_deoxidising_fills_the_wait_for_the_fill_and_drying_after_it_is_left() -> None:
    """At 70 F the fill kicks while two deoxidise for 90 min; then she dries 45 before she is scuffed."""
    assert idle(*PREP) == pytest.approx(45)


def test_on_a_cold_hull_the_fill_holds_the_sanding_up() -> None:
    """At 52 F 90 min are 180: 45 more than deoxidising and drying take."""
    assert idle(*PREP, hull_f=52) == pytest.approx(90)


def test_a_wait_is_no_longer_shortened_above_90_f() -> None:
    assert waiting.hold_minutes(FILL, f_to_c(90)) == pytest.approx(
        waiting.hold_minutes(FILL, f_to_c(110))
    )


def test_what_is_left_when_the_last_step_is_done_is_told() -> None:
    found = waiting.waits((WASH,), 2, RATES, AT_70)
    assert (found.idle_minutes, found.left_minutes) == (0, 30)
    half = waiting.waits(
        (WASH, Step(labour_minutes=40, meanwhile=True)), 2, RATES, AT_70
    )
    assert (half.idle_minutes, half.left_minutes) == (0, 10)


MIDNIGHT = datetime(2027, 5, 25, 4, tzinfo=UTC)
DAY = Span(MIDNIGHT, MIDNIGHT + timedelta(days=1))
HERE = Site(lat=44.1, lon=-69.1, zone="America/New_York")


def sky(*air_f: float | None) -> Sky:
    """A day's hours at the place, dull so that the hull is as warm as the air by night too."""
    return Sky(
        issued_at=MIDNIGHT,
        hours=tuple(
            SkyHour(
                at=MIDNIGHT + timedelta(hours=hour),
                air_c=None if air is None else f_to_c(air),
                cloud_pct=100.0,
            )
            for hour, air in enumerate(air_f)
        ),
    )


def work(family: str) -> Work:
    return Work(family=family, site=HERE, quickest_minutes=60)


def fahrenheit(celsius: float) -> float:
    return celsius * 9 / 5 + 32


def coldest_f(family: str, *air_f: float | None, spans: tuple[Span, ...] = (DAY,)):
    return fahrenheit(waiting.coldest_c(work(family), sky(*air_f), spans))


def test_the_coldest_hull_by_day_counts_not_the_nights() -> None:
    day = [58] * 4 + [64] * 5 + [72] * 12 + [58] * 3
    assert coldest_f("spray", *day) == pytest.approx(64)


def test_only_hours_in_which_it_may_be_done_count() -> None:
    day = [58] * 9 + [64] * 3 + [72] * 12
    nine, noon = (MIDNIGHT + timedelta(hours=hour) for hour in (9, 12))
    late = Span(noon, noon + timedelta(hours=4))
    assert coldest_f("spray", *day, spans=(late,)) == pytest.approx(72)
    assert coldest_f("spray", *day, spans=(Span(nine, noon), late)) == pytest.approx(64)


def test_hours_too_cold_to_spray_do_not_count() -> None:
    day = [48] * 9 + [60] * 15
    assert coldest_f("spray", *day) == pytest.approx(60)


@pytest.mark.parametrize("air_f", [[], [70] * 12, [70] * 14 + [None] + [70] * 9])
def test_where_an_hour_of_the_day_is_not_known_the_coldest_allowed_counts(
    air_f,
) -> None:
    assert coldest_f("spray", *air_f) == pytest.approx(55)
    assert coldest_f("gelcoat", *air_f) == pytest.approx(60)


def test_a_day_that_is_too_cold_throughout_is_no_shorter_a_wait() -> None:
    assert coldest_f("spray", *[40] * 24) == pytest.approx(55)
    assert coldest_f("spray", *[70] * 24, spans=()) == pytest.approx(55)


@pytest.mark.parametrize(
    ("air_f", "warmest"), [([66] * 12 + [78] * 2, 78), ([], 55), ([None] * 24, 55)]
)
def test_the_warmest_known_hull_tells_how_soon_it_can_be_done(air_f, warmest) -> None:
    found = waiting.warmest_c(work("spray"), sky(*air_f), DAY)
    assert fahrenheit(found) == pytest.approx(warmest)
