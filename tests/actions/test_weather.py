"""From a forecast file through the plugins to stored vetoes and windows."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dispatch.actions import book, facts, plugins, sweeping, weather, windows
from dispatch.actions.errors import Refused
from dispatch.records.models import Forecast, JobKind, Veto
from dispatch.trade.spans import Span
from tests.actions import shop
from tests.trade.lanternglass import WEATHER, ZONE

pytestmark = pytest.mark.django_db
NY = ZoneInfo(ZONE)
WEEK = Span(datetime(2027, 5, 24, tzinfo=NY), datetime(2027, 5, 31, tzinfo=NY))


@pytest.fixture
def place():
    shop.outfit()
    shop.catalogue()
    return shop.driveway()


def enable(folder=WEATHER):
    options = {
        "folder": str(folder),
        "file": "forecast_issued_sun_1800.csv",
        "issued_at": "2027-05-23T18:00:00-04:00",
    }
    plugins.enable("weather_file", options)
    plugins.enable("weather_veto", {})


def job(place):
    kind = JobKind.objects.get(key="spray-coat")
    return book.take_job(
        key="j1", boat=shop.boat(place), kind=kind, sheet=shop.one_part()
    )


def test_a_swept_forecast_leaves_reasons_with_numbers(place):
    enable()
    port = job(place).stages.get(key="port")
    weather.take_in(place)
    assert sweeping.sweep()
    sentences = [veto.sentence for veto in port.vetoes.all()]
    assert any("in the sun" in sentence for sentence in sentences)
    assert any("rain" in sentence and "needs" in sentence for sentence in sentences)


def test_windows_keep_the_hours_of_the_place_and_the_shade(place):
    enable()
    stages = {stage.key: stage for stage in facts.open_stages().filter(job=job(place))}
    weather.take_in(place)
    for stage in stages.values():
        weather.judge(stage)
    found = windows.of(stages["port"], Span(WEEK.start, WEEK.end))
    assert found
    for one in found:
        first = one.span.start.astimezone(NY)
        assert 9 <= first.hour <= 19
        assert one.span.length >= timedelta(
            minutes=min(stages["port"].minutes.values())
        )


def test_a_stage_nobody_judged_has_no_window(place):
    stage = job(place).stages.get(key="port")
    assert windows.of(stage, WEEK) == ()


def test_without_a_forecast_every_hour_is_unknown(place):
    enable()
    stage = facts.open_stages().get(job=job(place), key="port")
    weather.judge(stage)
    assert set(Veto.objects.filter(stage=stage).values_list("code", flat=True)) == {
        "unknown"
    }
    assert windows.of(stage, WEEK) == ()


def test_a_bad_row_takes_nothing_in(place, tmp_path):
    text = (
        (WEATHER / "forecast_issued_sun_1800.csv")
        .read_text()
        .replace("48.0,41.0", "warm,41.0", 1)
    )
    (tmp_path / "forecast_issued_sun_1800.csv").write_text(text)
    enable(tmp_path)
    with pytest.raises(Refused, match=r"line 2.*air_f.*warm"):
        weather.take_in(place)
    assert not Forecast.objects.exists()
