"""Forecasts as taken in; where there is none, nothing is known."""

import pytest

from dispatch.actions import sweeping
from dispatch.records.models import DueWork, HistoryEntry, PluginState

pytestmark = pytest.mark.django_db


def test_the_newest_forecast_is_told_by_the_hour(owner, sky):
    told = owner.get("/api/forecasts/s5/").json()
    assert told["issued_at"] == "2027-05-23T22:00:00Z"
    assert len(told["hours"]) == sky.hours.count()
    assert set(told["hours"][0]) >= {"at", "air_c", "dew_c", "gust_ms", "rain_mm"}


def test_a_place_without_a_forecast_says_that_nothing_is_known(owner, yard):
    told = owner.get("/api/forecasts/s5/").json()
    assert (told["issued_at"], told["hours"]) == (None, [])


def test_an_unknown_place_is_404_and_the_known_ones_named(owner, yard):
    answer = owner.get("/api/forecasts/s6/")
    assert answer.status_code == 404
    assert "s5" in answer.json()["detail"]


NOTHING = {"since": None, "begun": False, "said": "", "went_wrong": False}


def test_all_sources_are_asked_by_the_worker_and_what_came_is_told(owner, sky):
    assert owner.get("/api/forecasts/").json() == NOTHING
    answer = owner.post("/api/forecasts/")
    assert answer.status_code == 202
    assert answer.json() | {"since": None} == NOTHING
    assert answer.json()["since"] is not None
    sweeping.sweep()
    told = owner.get("/api/forecasts/").json()
    assert told == NOTHING | {
        "said": "All sources were asked. Weather file: nothing newer than we have "
        "for Marrow Road, issued Sun 23 May 18:00."
    }


def test_a_source_that_fails_is_named(owner, sky):
    PluginState.objects.filter(name="weather_file").update(
        options={"folder": "/nowhere", "file": "none.csv", "issued_at": ""}
    )
    owner.post("/api/forecasts/")
    sweeping.sweep()
    told = owner.get("/api/forecasts/").json()
    assert told["went_wrong"]
    assert "Weather file failed for Marrow Road. " in told["said"]


def test_asking_twice_is_done_once(owner, sky):
    owner.post("/api/forecasts/")
    owner.post("/api/forecasts/")
    assert DueWork.objects.filter(verb="ask-forecasts").count() == 1
    assert HistoryEntry.objects.filter(verb="ask-forecasts").count() == 1


def test_without_a_source_asking_is_refused(owner, yard):
    answer = owner.post("/api/forecasts/")
    assert answer.status_code == 409
    assert "No forecast source is enabled" in answer.json()["detail"]


def test_nobody_but_the_owner_asks(crew, sky):
    assert crew.post("/api/forecasts/").status_code == 403
    assert crew.get("/api/forecasts/").status_code == 403
