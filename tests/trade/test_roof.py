"""A roof that must be down at 22 mph; on Saturday at 16:00 a thunderstorm brings a gust of 28 mph and 0.30 in of rain."""

from dataclasses import replace
from datetime import timedelta

import pytest

from dispatch.trade import roof
from dispatch.trade.limits import Limits
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c, mph_to_ms
from dispatch.trade.window import judge, vetoes
from dispatch.trade.words import Words
from tests.trade.lanternglass import TWO_PART
from tests.trade.test_window import HAPPENED, WEEK, codes, ending, moment, spray

LIMIT = mph_to_ms(22)


def loft(**changes: object):
    return spray(**({"cover": "roof", "down_gust_ms": LIMIT} | changes))


def blown(told: dict[int, float | None]) -> Sky:
    """The sky of Saturday with other gusts at some hours, in mph."""
    gusts = {moment(29, hour): mph for hour, mph in told.items()}
    hours = tuple(
        replace(
            hour, gust_ms=None if (mph := gusts[hour.at]) is None else mph_to_ms(mph)
        )
        if hour.at in gusts
        else hour
        for hour in HAPPENED.hours
    )
    return Sky(hours=hours, issued_at=HAPPENED.issued_at)


def test_film_that_is_wet_when_the_roof_must_be_down_meets_the_rain() -> None:
    (found,) = ending(loft(), 29, 14)
    assert (found.code, found.strength) == ("rain-soon", "wall")
    assert found.sentence.startswith(
        "the roof must be down Sat 16:00 (gust 28 mph, its limit 22 mph): film rain-safe Sat "
    )
    assert "too late, needs 2 h 00" in found.sentence
    assert found.numbers["gust_ms"] == pytest.approx(mph_to_ms(28))
    assert found.numbers["down_gust_ms"] == LIMIT


def test_film_that_is_safe_in_time_or_laid_after_the_storm_is_let_pass() -> None:
    assert not ending(loft(), 29, 10)
    assert not ending(loft(), 28, 16)
    # Open, the dew of that night stops it; under the roof only the storm could, and that is over.
    assert "rain-soon" not in codes(ending(loft(), 29, 18))


def test_without_a_gust_told_by_its_maker_none_is_held_against_a_roof() -> None:
    assert not ending(loft(down_gust_ms=None), 29, 14)


@pytest.mark.parametrize(
    ("mph", "stands"), [(21.9, True), (22.0, False), (22.1, False)]
)
def test_it_must_be_down_at_its_limit_and_above(mph: float, *, stands: bool) -> None:
    assert bool(ending(loft(), 29, 14, under=blown({16: mph}))) is not stands


def test_dew_counts_again_once_the_roof_is_down() -> None:
    dewy = loft(sheet=TWO_PART)
    assert not ending(dewy, 24, 16)
    gusty = replace(
        HAPPENED,
        hours=tuple(
            replace(hour, gust_ms=LIMIT) if hour.at == moment(24, 20) else hour
            for hour in HAPPENED.hours
        ),
    )
    (found,) = ending(dewy, 24, 16, under=gusty)
    assert found.code == "dew-before-safe"
    assert found.sentence.startswith("the roof must be down Mon 20:00 (gust 22 mph")


def test_a_gust_nobody_forecast_is_unknown_where_rain_may_follow_it() -> None:
    (found,) = ending(loft(), 29, 14, under=blown({16: None}))
    assert found.code == "unknown"
    assert "gusts, rain and dew" in found.sentence
    assert not ending(loft(), 29, 10, under=blown({16: None}))


def test_nobody_works_under_a_roof_that_must_be_down() -> None:
    low = loft(down_gust_ms=mph_to_ms(12), limits=Limits(confidence_factor=1.0))
    storm = Span(moment(29, 14), moment(29, 15))
    down = [one for one in judge(storm, vetoes(low, HAPPENED, WEEK)) if one.edge == "during"]  # fmt: skip
    assert [(one.code, one.strength) for one in down] == [("roof-down", "wall")]
    assert "gust 28 mph, its limit 12 mph" in down[0].sentence


def test_the_first_gust_of_some_hours_says_when() -> None:
    hours = [(moment(29, 12 + i), gust) for i, gust in enumerate((5.0, None, 12.0))]
    found = roof.first(hours, LIMIT)
    assert found is not None
    assert found.at == moment(29, 14)
    assert found.says(Words()) == "gust 27 mph, its limit 22 mph"
    assert roof.first(hours, 13.0) is None


def test_only_a_roof_has_a_gust_at_which_it_must_be_down() -> None:
    with pytest.raises(ValueError, match="Only a roof"):
        spray(down_gust_ms=LIMIT)


def wet_on_saturday(**changes: object) -> list[Span]:
    """When she counts as wet where the air has cleared and dried right after the storm's hour, in dry shade."""
    hours = tuple(
        hour
        if hour.at < moment(29, 17)
        else replace(
            hour, dew_c=f_to_c(50), rh_pct=45.0, rain_mm=0.0, rain_prob_pct=0.0
        )
        for hour in HAPPENED.hours
    )
    sky = Sky(hours=hours, issued_at=HAPPENED.issued_at)
    found = vetoes(loft(**changes), sky, Span(moment(29, 12), moment(29, 20)))
    return [veto.span for veto in found if veto.code == "wet-hull"]


def test_a_hull_that_was_wetted_while_the_roof_was_down_dries_before_she_is_sprayed() -> (
    None
):
    """The storm has it down from 16:00 to 17:00 and rains on her; from then the spread suffices, for 45 minutes."""
    (wet,) = wet_on_saturday()
    assert wet.start == moment(29, 17)
    assert wet.length == timedelta(minutes=45)


def test_under_a_roof_that_stays_up_the_rain_wets_nobody() -> None:
    """One that its maker lets stand in 40 mph, and one whose gust nobody told; in the open the storm wets her."""
    assert wet_on_saturday(down_gust_ms=mph_to_ms(40)) == []
    assert wet_on_saturday(down_gust_ms=None) == []
    assert wet_on_saturday(cover="open", down_gust_ms=None)[-1].end == moment(
        29, 17, 45
    )
