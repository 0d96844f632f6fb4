"""Forecasts as taken in; where there is none, nothing is known."""

import pytest

from dispatch.records.models import PluginState

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


def test_all_sources_are_asked_at_once_and_each_answer_is_told(owner, sky):
    answer = owner.post("/api/forecasts/")
    assert answer.status_code == 200
    assert answer.json() == {
        "came": [
            {
                "place": "Marrow Road",
                "source": "weather_file",
                "issued_at": "2027-05-23T22:00:00Z",
                "hours": sky.hours.count(),
                "new": False,
            }
        ],
        "failed": [],
        "later": [],
    }


def test_a_source_that_fails_is_named(owner, sky):
    PluginState.objects.filter(name="weather_file").update(
        options={"folder": "/nowhere", "file": "none.csv", "issued_at": ""}
    )
    told = owner.post("/api/forecasts/").json()
    assert told["came"] == []
    (failed,) = told["failed"]
    assert (failed["place"], failed["source"]) == ("Marrow Road", "weather_file")
    assert "weather_file" in failed["why"]


def test_without_a_source_asking_is_refused(owner, yard):
    answer = owner.post("/api/forecasts/")
    assert answer.status_code == 409
    assert "No forecast source is enabled" in answer.json()["detail"]
