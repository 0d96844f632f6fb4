"""Rates and limits over the machines' door."""

import pytest

from dispatch.records.models import HistoryEntry, Setting

pytestmark = pytest.mark.django_db
RAIN = "/api/settings/limits.rain_prob_pct/"


def put(client, path=RAIN, **body):
    return client.put(path, body, format="json")


def test_a_setting_is_changed_and_the_history_says_who_and_why(owner, yard):
    answer = put(owner, value=30, why="wet spring")
    assert answer.json() == {
        "name": "limits.rain_prob_pct",
        "title": "Rain, shade and forecasts: an hour counts as rain from a chance of",
        "default": 40.0,
        "value": 30.0,
        "least": 0.0,
        "most": 100.0,
        "origin": "Our assumption.",
    }
    listed = {rate["name"]: rate for rate in owner.get("/api/settings/").json()}
    assert listed["limits.rain_prob_pct"]["value"] == 30
    assert "wipe-on.air_max_c" in listed
    entry = HistoryEntry.objects.get(verb="set")
    assert (entry.actor, entry.why) == ("orla", "wet spring")


@pytest.mark.parametrize("value", [101, -1])
def test_a_value_out_of_bounds_is_422_and_kept_out(owner, yard, value):
    answer = put(owner, value=value)
    assert answer.status_code == 422
    assert "limits.rain_prob_pct" in answer.json()["detail"]
    assert not Setting.objects.exists()


@pytest.mark.parametrize("value", ["much", "NaN", "Infinity", None])
def test_a_value_that_is_no_number_is_400(owner, yard, value):
    assert put(owner, value=value).status_code == 400


def test_an_unknown_setting_is_404(owner, yard):
    assert put(owner, "/api/settings/spray.luck/", value=1).status_code == 404


def test_the_crew_changes_nothing(crew, yard):
    assert put(crew, value=30).status_code == 403
    assert not Setting.objects.exists()


def test_delete_takes_a_setting_back_to_its_default(owner, yard):
    put(owner, value=30)
    answer = owner.delete(RAIN)
    assert answer.json()["value"] == 40
    assert not Setting.objects.exists()
    assert "now 40 %, its default (was 30 %)" in HistoryEntry.objects.first().sentence


def test_a_default_that_would_turn_a_pair_round_is_422(owner, yard):
    put(owner, "/api/settings/polish.air_max_c/", value=40)
    put(owner, "/api/settings/polish.air_min_c/", value=35)
    answer = owner.delete("/api/settings/polish.air_max_c/")
    assert answer.status_code == 422
    assert "must not be above" in answer.json()["detail"]
