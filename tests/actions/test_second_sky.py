"""Two sources tell of one place: what either forbids is forbidden, and it is told by whom."""

from datetime import timedelta

import pytest

from dispatch.actions import second_sky, visit_sky
from dispatch.records.models import Forecast, ForecastHour, Outfit, PluginState
from dispatch.trade.spans import Span
from dispatch.trade.units import mph_to_ms
from dispatch.trade.work import Veto
from tests.actions import plans
from tests.journeys import skies

pytestmark = pytest.mark.django_db
START, END = plans.at(28, "10:00"), plans.at(28, "11:20")


@pytest.fixture
def stage():
    """A fine Friday by the file."""
    return skies.spray(issued="2027-05-28T05:00:00-04:00")


def second(stage, *, hours_old: float = 1, gust_mph: float = 6) -> Forecast:
    """The same hours by another source, but for its gusts."""
    PluginState.objects.create(name="weather_columnar", enabled=True, options={})
    place = stage.job.boat.place
    first = place.forecasts.get()
    now = Outfit.objects.get().stands_at
    made = Forecast.objects.create(
        place=place,
        source="weather_columnar",
        issued_at=now - timedelta(hours=hours_old),
        taken_in_at=now,
    )
    rows = list(first.hours.all())
    for row in rows:
        row.pk, row.forecast = None, made
        row.gust_ms, row.wind_ms = mph_to_ms(gust_mph), mph_to_ms(4)
    ForecastHour.objects.bulk_create(rows)
    return made


def test_a_second_source_that_forbids_counts_and_is_named(stage):
    assert skies.says(stage, START, END).word == visit_sky.ALLOWS
    second(stage, gust_mph=25)
    found = skies.says(stage, START, END)
    assert found.word == visit_sky.FORBIDS
    row = stage.vetoes.filter(code="gust").first()
    assert "25 mph" in row.sentence
    assert row.sentence.endswith("(by weather_columnar)")


@pytest.mark.parametrize(
    "quiet", [{"gust_mph": 6}, {"gust_mph": 25, "hours_old": 13}, {"off": True}]
)
def test_one_that_agrees_is_too_old_or_is_off_changes_nothing(stage, quiet):
    off = quiet.pop("off", False)
    second(stage, **{"gust_mph": 25} | quiet)
    if off:
        PluginState.objects.filter(name="weather_columnar").update(enabled=False)
    assert skies.says(stage, START, END).word == visit_sky.ALLOWS


def test_a_rule_that_both_break_is_told_once(stage):
    skies.says(stage, START, END)
    before = stage.vetoes.count()
    made = second(stage)
    made.hours.all().delete()
    rows = list(stage.job.boat.place.forecasts.get(source="weather_file").hours.all())
    for row in rows:
        row.pk, row.forecast = None, made
    ForecastHour.objects.bulk_create(rows)
    skies.says(stage, START, END)
    assert stage.vetoes.count() == before


def test_what_only_the_second_does_not_know_takes_nothing_away():
    whole = Span(START, END)
    missing = Veto(
        span=whole,
        edge="during",
        code="unknown",
        sentence="no forecast",
        numbers={},
        strength="wall",
    )
    assert second_sky.worse((), (missing,), "other") == ()
