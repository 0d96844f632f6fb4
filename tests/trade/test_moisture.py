"""A hull that was wet from dew or rain, and the humidity around it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from dispatch.trade.limits import Limits
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.window import vetoes
from dispatch.trade.work import Veto
from tests.trade.test_window import HAPPENED, WEEK, moment, spray


def of(code: str, found: tuple[Veto, ...]) -> list[Veto]:
    return [veto for veto in found if veto.code == code]


def warm(sky: Sky) -> Sky:
    """The same week without its cold, so that only moisture binds."""
    hours = (replace(hour, air_c=20.0, rh_pct=70.0) for hour in sky.hours)
    return replace(sky, hours=tuple(hours))


def dewy(spreads_k: dict[int, float]) -> Sky:
    """A dry week of 20 C air with a spread for some of its hours; 8 K in the others."""
    hours = (
        replace(
            hour,
            dew_c=20.0 - spreads_k.get(index, 8.0),
            rain_mm=0.0,
            rain_prob_pct=0.0,
            cloud_pct=50.0,
        )
        for index, hour in enumerate(warm(HAPPENED).hours)
    )
    return replace(HAPPENED, hours=tuple(hours))


def test_a_hull_wet_from_the_night_is_dry_after_45_minutes_of_spread() -> None:
    sky = dewy({4: 0.0, 5: 1.0, 6: 1.0})
    (wet,) = of("wet-hull", vetoes(spray(), sky, WEEK))
    assert wet.span == Span(moment(24, 7), moment(24, 7, 45))
    assert wet.strength == "lead"
    assert "wiped and blown dry" in wet.sentence


def test_a_hull_that_never_grew_wet_need_not_dry() -> None:
    sky = dewy({5: 1.0, 6: 1.0})
    assert not of("wet-hull", vetoes(spray(), sky, WEEK))
    assert of("spread", vetoes(spray(), sky, WEEK))


def test_drying_starts_again_where_the_spread_falls_back() -> None:
    sky = dewy({4: 0.0, 6: 1.0})
    slow = spray(limits=Limits(dry_minutes=90))
    runs = [veto.span for veto in of("wet-hull", vetoes(slow, sky, WEEK))]
    assert runs == [
        Span(moment(24, 5), moment(24, 6)),
        Span(moment(24, 7), moment(24, 8, 30)),
    ]


def test_rain_wets_a_hull_like_dew() -> None:
    (after_rain, *_) = of("wet-hull", vetoes(spray(), HAPPENED, WEEK))
    assert after_rain.span == Span(moment(27, 11), moment(27, 11, 45))


def test_nobody_knows_how_a_damp_week_began_so_the_hull_counts_as_wet() -> None:
    (wet,) = of("wet-hull", vetoes(spray(), dewy({0: 1.0}), WEEK))
    assert wet.span.end == moment(24, 1, 45)


@pytest.mark.parametrize("changes", [{"cover": "roof"}, {"family": "polish"}])
def test_a_roof_keeps_dew_off_and_polish_minds_only_the_spread(
    changes: dict[str, str],
) -> None:
    sky = dewy({4: 0.0})
    work = spray(**{"sheet": None, **changes})
    assert not of("wet-hull", vetoes(work, sky, WEEK))


def test_humidity_and_its_limit_are_told() -> None:
    at = moment(24, 10)
    hours = tuple(replace(h, rh_pct=84.0) for h in warm(HAPPENED).hours if h.at == at)
    found = vetoes(
        spray(), Sky(hours=hours, issued_at=at), Span(at, at + timedelta(hours=1))
    )
    (humid,) = of("humid", found)
    assert humid.sentence == "humidity 84 %, needs at most 82 %"
    assert humid.numbers == {"rh_pct": 84.0, "limit_pct": 82.0}
