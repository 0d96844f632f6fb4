"""All sources asked at once: what comes is stored, what fails is told by its name, the rest goes to the worker."""

import shutil

import pytest

from dispatch.actions import plugins, sweeping, weather
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    DueWork,
    Forecast,
    HistoryEntry,
    Place,
    PluginState,
    Van,
)
from tests.actions import plans, posted
from tests.trade.lanternglass import WEATHER

pytestmark = pytest.mark.django_db
FILE = "forecast_issued_sun_1800.csv"


@pytest.fixture
def owner():
    """An outfit with a boat in a driveway, and a shop elsewhere that its van starts from."""
    posted.sprayed()
    posted.van_day(posted.person("rook"))
    return plans.owner()


@pytest.fixture
def folder(tmp_path):
    """A forecast file of our own, so that it can go missing."""
    shutil.copy(WEATHER / FILE, tmp_path)
    options = {
        "folder": str(tmp_path),
        "file": FILE,
        "issued_at": "2027-05-23T18:00:00-04:00",
    }
    plugins.enable("weather_file", options)
    return tmp_path


def test_boats_and_crews_starts_are_asked_for(owner, folder):
    Place.objects.create(
        key="s9", name="Nowhere", latitude=1, longitude=1, time_zone="UTC"
    )
    asked = weather.ask_all()
    assert [(one.place, one.source, one.new) for one in asked.came] == [
        ("Shop", "weather_file", True),
        ("Marrow Road", "weather_file", True),
    ]
    assert all(one.hours > 100 for one in asked.came)
    assert set(Forecast.objects.values_list("place__key", flat=True)) == {"s0", "s5"}
    assert Van.objects.get().base.key == "s0"


def test_what_is_in_store_already_is_told_as_not_newer(owner, folder):
    weather.ask_all()
    asked = weather.ask_all()
    assert (asked.new, len(asked.came)) == (0, 2)
    assert Forecast.objects.count() == 2
    said = HistoryEntry.objects.filter(verb="forecasts-came").first()
    assert said.actor == "sky"
    assert said.sentence == (
        "All sources were asked. Weather file: nothing newer than we have for "
        "Shop and Marrow Road, issued Sun 23 May 18:00."
    )


def test_a_source_that_fails_is_named_with_its_reason(owner, folder):
    (folder / FILE).unlink()
    asked = weather.ask_all()
    assert (asked.came, asked.later) == ((), ())
    assert {one.place for one in asked.failed} == {"Shop", "Marrow Road"}
    assert all("Weather file" in one.why for one in asked.failed)
    said = HistoryEntry.objects.get(verb="forecasts-failed").sentence
    assert "Weather file failed for Shop. " in said
    assert "Weather file failed for Marrow Road. " in said


def test_one_that_fails_does_not_keep_the_others_from_being_heard(
    owner, folder, monkeypatch
):
    gone = PluginState.objects.create(name="gone_source", enabled=True)
    real = plugins.enabled
    monkeypatch.setattr(plugins, "enabled", lambda hook: [gone, *real(hook)])
    asked = weather.ask_all()
    assert [one.source for one in asked.failed] == ["gone_source"] * 2
    assert all("gone_source" in one.why for one in asked.failed)
    assert [one.source for one in asked.came] == ["weather_file"] * 2


def test_what_comes_has_stages_judged_and_film_reckoned(owner, folder):
    DueWork.objects.all().delete()
    weather.ask_all()
    verbs = set(DueWork.objects.values_list("verb", flat=True))
    assert verbs == {"judge-stage", "reckon-film"}


def test_what_takes_too_long_becomes_work_of_its_own(owner, folder, monkeypatch):
    monkeypatch.setattr(weather, "PATIENCE_S", 0.0)
    asked = weather.ask_all()
    assert (asked.came, asked.later) == ((), ("Shop", "Marrow Road"))
    waiting = DueWork.objects.filter(verb="take-in-forecast")
    assert set(waiting.values_list("key", flat=True)) == {"s0", "s5"}


def test_the_clock_leaves_every_place_to_the_worker_once(owner, folder):
    assert weather.ask_later() == 2
    assert weather.ask_later() == 2
    waiting = DueWork.objects.filter(verb="take-in-forecast", done_at=None)
    assert sorted(waiting.values_list("key", flat=True)) == ["s0", "s5"]
    assert sweeping.sweep()
    assert Forecast.objects.count() == 2


def test_the_clock_asks_for_nothing_where_there_is_no_source(owner):
    assert weather.ask_later() == 0
    assert not DueWork.objects.filter(verb="take-in-forecast").exists()


def test_without_a_source_it_says_what_to_do(owner):
    with pytest.raises(Refused, match="turn its plugin on"):
        weather.ask_all()


def test_an_outfit_that_is_not_there_is_refused(db):
    plugins.enable(
        "weather_file", {"folder": str(WEATHER), "file": FILE, "issued_at": ""}
    )
    with pytest.raises(Refused):
        weather.ask_all()
