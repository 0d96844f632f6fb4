"""Forecasts as taken in; where there is none, nothing is known."""

import pytest

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
