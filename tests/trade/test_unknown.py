"""A number that nobody forecast is unknown: it never lets work pass that the number would have stopped."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dispatch.trade.shade import Hull
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span, normal, subtract
from dispatch.trade.units import ft_to_m
from dispatch.trade.window import judge, vetoes
from dispatch.trade.work import Neighbour, Veto, Work
from tests.trade.lanternglass import TWO_PART
from tests.trade.test_window import HAPPENED, WEEK, spray

CAR = Neighbour(what="a car", bearing_deg=45, distance_m=ft_to_m(30))
WORKS = {
    "one part": spray(),
    "two part": spray(sheet=TWO_PART),
    "a side": spray(panels=("port",), hull=Hull(heading_true_deg=10), tail_minutes=40),
    "beside a car": spray(neighbours=(CAR,), cover="screens"),
    "wipe-on": spray(family="wipe-on", sheet=None),
    "gelcoat": spray(family="gelcoat", sheet=None),
    "polish": spray(family="polish", sheet=None),
}
NEEDED = ("air_c", "dew_c", "rh_pct", "wind_ms", "gust_ms", "rain_mm", "rain_prob_pct")
BLOCKED = {name: vetoes(work, HAPPENED, WEEK) for name, work in WORKS.items()}


def without(numbers: set[str], first: int, hours: int) -> Sky:
    """The demo week's sky with some numbers missing for some hours."""
    gone = dict.fromkeys(numbers)
    rows = [
        replace(hour, **gone) if first <= index < first + hours else hour  # type: ignore[arg-type]
        for index, hour in enumerate(HAPPENED.hours)
    ]
    return replace(HAPPENED, hours=tuple(rows))


def spans(found: tuple[Veto, ...], edge: str) -> tuple[Span, ...]:
    return normal(veto.span for veto in found if veto.edge == edge)


@settings(deadline=None, max_examples=120)
@given(
    name=st.sampled_from(sorted(WORKS)),
    numbers=st.sets(st.sampled_from((*NEEDED, "cloud_pct", "from_deg")), min_size=1),
    first=st.integers(0, 150),
    hours=st.integers(1, 12),
)
def test_what_is_missing_opens_no_hour(
    name: str, numbers: set[str], first: int, hours: int
) -> None:
    found = vetoes(WORKS[name], without(numbers, first, hours), WEEK)
    for edge in ("during", "ending"):
        assert not subtract(spans(BLOCKED[name], edge), spans(found, edge))


@pytest.mark.parametrize("number", NEEDED)
@pytest.mark.parametrize("index", [12, 80, 107])
def test_an_hour_without_a_number_that_is_asked_for_is_not_a_go(
    number: str, index: int
) -> None:
    sky = without({number}, index, 1)
    hour = HAPPENED.hours[index].at
    span = Span(hour + timedelta(minutes=10), hour + timedelta(minutes=20))
    assert judge(span, vetoes(spray(), sky, WEEK))


@pytest.mark.parametrize("number", ["wind_ms", "gust_ms"])
def test_film_does_not_level_into_a_wind_nobody_knows(number: str) -> None:
    work = spray(tail_minutes=40)
    sky = without({number}, 4 * 24 + 12, 1)
    noon = HAPPENED.hours[4 * 24 + 12].at
    just_before = Span(noon - timedelta(minutes=20), noon - timedelta(minutes=5))
    found = judge(just_before, vetoes(work, sky, WEEK))
    assert "unknown" in {veto.code for veto in found}


@pytest.mark.parametrize("number", ["dew_c", "rain_mm"])
def test_a_hull_may_be_wet_after_hours_nobody_knows(number: str) -> None:
    noon = HAPPENED.hours[4 * 24 + 12].at
    after = Span(noon + timedelta(minutes=65), noon + timedelta(minutes=80))
    whole = judge(after, vetoes(spray(), HAPPENED, WEEK))
    holed = judge(after, vetoes(spray(), without({number}, 4 * 24 + 12, 1), WEEK))
    assert "wet-hull" not in {veto.code for veto in whole}
    assert "wet-hull" in {veto.code for veto in holed}


def test_without_any_sky_nothing_is_a_go() -> None:
    for work in WORKS.values():
        found: tuple[Veto, ...] = vetoes(work, None, WEEK)
        assert spans(found, "during") == (WEEK,)


def test_work_the_sky_does_not_matter_to_needs_none() -> None:
    work: Work = spray(family="any", sheet=None)
    assert not vetoes(work, None, WEEK)
