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
    five, none = np.full(5, 5.0), np.zeros(5)
    assert samples.worst_ahead(values, five).tolist() == [1.0, 3.0, 3.0, 0.0, 0.0]
    assert samples.worst_ahead(values, none).tolist()[:3] == [1.0, 1.0, 3.0]


def test_each_moment_looks_ahead_by_its_own_minutes() -> None:
    mask = np.array([False, False, False, True, False])
    minutes = np.array([14.0, 10.0, 0.0, 0.0, 30.0])
    assert samples.soon(mask, minutes).tolist() == [True, True, False, True, False]
    values = np.array([1.0, 1.0, 1.0, 3.0, 1.0])
    assert samples.worst_ahead(values, minutes).tolist() == [3.0, 3.0, 1.0, 3.0, 1.0]


def test_film_levels_by_the_sheet_and_the_hulls_warmth_the_works_own_minutes_at_most() -> (
    None
):
    """25 min at 70 F: 50 at 52 F, of which the work lets 45 count, and 12.5 at 88 F."""
    hour = Span(moment(25, 11), moment(25, 12))
    found = []
    for air_f in (70, 52, 88):
        still = SkyHour(at=hour.start, air_c=f_to_c(air_f), cloud_pct=100.0)
        work = spray(tail_minutes=45)
        dull = samples.take(work, Sky(hours=(still,), issued_at=hour.start), hour)
        shift = dull.surface_c[0] - f_to_c(air_f)
        assert shift == pytest.approx(0, abs=0.01)
        found.append(samples.tail_minutes(dull, work)[0])
    assert found == pytest.approx([25, 45, 12.5])
