"""Film that ends at a moment, judged by the sky that comes after it."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.window import judge, vetoes
from dispatch.trade.work import Veto
from tests.trade.test_window import HAPPENED, WEEK, codes, ending, moment, spray


def with_gap(names: tuple[str, ...], first: int, last: int) -> Sky:
    """The week's sky with numbers missing in some hours of Friday."""
    gap = Span(moment(28, first), moment(28, last))
    missing: dict[str, Any] = dict.fromkeys(names)
    hours = (
        replace(hour, **missing) if gap.holds(hour.at) else hour
        for hour in HAPPENED.hours
    )
    return replace(HAPPENED, hours=tuple(hours))


@pytest.mark.parametrize("name", ["rain_mm", "rain_prob_pct", "dew_c"])
def test_film_is_not_laid_into_hours_nobody_forecast(name: str) -> None:
    assert not ending(spray(), 28, 11)
    found = ending(spray(), 28, 11, under=with_gap((name,), 13, 14))
    assert codes(found) == {"unknown"}
    assert "unknown, so not a go" in found[0].sentence


def test_rain_must_be_known_through_the_margin() -> None:
    late = with_gap(("rain_mm",), 16, 17)
    assert codes(ending(spray(), 28, 11, under=late)) == {"unknown"}
    assert not ending(spray(), 28, 11, under=with_gap(("rain_mm",), 18, 19))


def end_of_short_horizon(sky: Sky) -> list[Veto]:
    """The vetoes on a last coat of Wednesday 09:30, asked with a horizon that ends at ten."""
    horizon = Span(WEEK.start, moment(26, 10))
    end = moment(26, 9, 30)
    visit = Span(end - timedelta(minutes=1), end)
    return [
        v for v in judge(visit, vetoes(spray(), sky, horizon)) if v.edge == "ending"
    ]


def test_rain_beyond_the_horizon_still_counts() -> None:
    assert codes(end_of_short_horizon(HAPPENED)) == {"rain-soon"}


def test_vetoes_never_reach_beyond_the_horizon() -> None:
    horizon = Span(WEEK.start, moment(26, 10))
    assert all(
        horizon.start <= veto.span.start and veto.span.end <= horizon.end
        for veto in vetoes(spray(), HAPPENED, horizon)
    )


def test_a_sprinkler_is_treated_as_rain() -> None:
    wetting = Span(moment(28, 15), moment(28, 15, 30))
    site = replace(spray().site, known_wettings=(wetting,))
    assert codes(ending(spray(site=site), 28, 11)) == {"rain-soon"}


def test_a_run_of_bad_ends_is_told_by_its_worst() -> None:
    (late,) = ending(spray(), 26, 9, 30)
    assert "Wed 2" in late.sentence
    assert "needs 2 h 00" in late.sentence
