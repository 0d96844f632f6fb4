"""A sky over a grid: each moment has its hour's numbers, and gaps stay gaps."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from dispatch.trade import samples
from dispatch.trade.cure import set_at
from dispatch.trade.sky import HOUR, Sky, SkyHour
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from tests.trade.test_window import HAPPENED, WEEK, moment, spray

START = datetime(2027, 5, 24, 4, 30, tzinfo=UTC)


def hourly(*airs: float | None) -> Sky:
    hours = (
        SkyHour(at=START + i * HOUR, air_c=air, cloud_pct=90.0)
        for i, air in enumerate(airs)
    )
    return Sky(hours=tuple(hours), issued_at=START)


def test_an_hour_that_starts_at_half_past_lasts_until_half_past() -> None:
    taken = samples.take(spray(), hourly(10.0, 20.0), Span(START, START + 2 * HOUR))
    assert taken["air_c"].tolist() == [10.0] * 12 + [20.0] * 12


def test_moments_that_no_hour_speaks_of_are_unknown() -> None:
    around = Span(START - HOUR, START + 3 * HOUR)
    taken = samples.take(spray(), hourly(10.0, None), around)
    assert np.isnan(taken["air_c"]).tolist() == [True] * 12 + [False] * 12 + [True] * 24


def test_without_any_hour_everything_is_unknown() -> None:
    taken = samples.take(spray(), Sky(hours=(), issued_at=START), WEEK)
    assert np.isnan(taken["air_c"]).all()
    assert samples.surface(spray(), Sky(hours=(), issued_at=START)) is None


def test_film_gains_nothing_in_an_hour_nobody_knows() -> None:
    known = samples.surface(spray(), hourly(*[20.0] * 8))
    gap = samples.surface(spray(), hourly(20.0, None, *[20.0] * 6))
    assert known is not None
    assert gap is not None
    whole, late = (set_at(s, START, 4, f_to_c(50)) for s in (known, gap))
    assert whole is not None
    assert late is not None
    assert late - whole == pytest.approx(HOUR, abs=timedelta(seconds=1))


def test_a_missing_hour_does_not_hide_what_comes_after_it() -> None:
    hours = tuple(h for h in HAPPENED.hours if h.at != moment(25, 10))
    surface = samples.surface(spray(), replace(HAPPENED, hours=hours))
    assert surface is not None
    assert len(surface.hourly_c) == len(HAPPENED.hours)
    assert surface.hourly_c[34] == -np.inf


def test_the_worst_ahead_looks_no_further_than_asked() -> None:
    values = np.array([1.0, 1.0, 3.0, np.nan, 0.0])
    assert samples.worst_ahead(values, 5).tolist() == [1.0, 3.0, 3.0, 0.0, 0.0]
    assert samples.worst_ahead(values, 0).tolist()[:3] == [1.0, 1.0, 3.0]
