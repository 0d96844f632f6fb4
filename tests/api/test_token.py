"""A name and a password give a token; wrong ones give nothing, and too many rest the name."""

import pytest
from rest_framework.test import APIClient

from dispatch.records.models import HistoryEntry

pytestmark = [pytest.mark.django_db, pytest.mark.services]
RIGHT = {"username": "orla", "password": "tarrow-and-daughter"}
WRONG = {"password": "x"}


@pytest.fixture
def orla(orla):
    orla.set_password(RIGHT["password"])
    orla.save()
    return orla


def sign_in(client, **changes):
    return client.post("/api/token/", RIGHT | changes, format="json")


def test_the_token_opens_the_door_and_is_the_same_every_time(nobody, orla, yard):
    first = sign_in(nobody).json()
    assert first["role"] == "owner"
    assert sign_in(nobody).json() == first
    nobody.credentials(HTTP_AUTHORIZATION=f"Token {first['token']}")
    assert nobody.get("/api/weeks/").status_code == 200
    assert HistoryEntry.objects.filter(verb="make-token").count() == 1


@pytest.mark.parametrize("wrong", [WRONG, {"username": "nobody"}])
def test_a_wrong_name_or_password_gives_no_token(nobody, orla, wrong):
    answer = sign_in(nobody, **wrong)
    assert answer.status_code == 401
    assert answer["WWW-Authenticate"] == "Token"
    assert answer.json()["detail"].startswith("Name and password do not go together")


def test_an_account_that_was_closed_gets_in_no_more(nobody, orla, owner):
    orla.is_active = False
    orla.save()
    assert sign_in(nobody).status_code == 401
    assert owner.get("/api/weeks/").status_code == 401


def test_eight_wrong_passwords_rest_the_name_even_for_the_right_one(nobody, orla):
    statuses = [sign_in(nobody, **WRONG).status_code for _ in range(8)]
    assert statuses == [401] * 7 + [429]
    answer = sign_in(nobody)
    assert answer.status_code == 429
    assert int(answer["Retry-After"]) == 900
    assert "token" not in answer.json()


def test_a_missing_password_is_named(nobody):
    answer = nobody.post("/api/token/", {"username": "orla"}, format="json")
    assert answer.status_code == 400
    assert [fault["field"] for fault in answer.json()["errors"]] == ["password"]


def test_a_dropped_token_opens_nothing_more(owner, orla):
    assert owner.delete("/api/token/").status_code == 204
    assert owner.get("/api/weeks/").status_code == 401
    assert HistoryEntry.objects.filter(verb="drop-token").exists()


def test_a_session_must_send_its_csrf_token_to_change_anything(orla, yard):
    client = APIClient(enforce_csrf_checks=True)
    client.force_login(orla, "django.contrib.auth.backends.ModelBackend")
    assert client.get("/api/weeks/").status_code == 200
    refused = client.post("/api/weeks/2027-05-24/build/", {}, format="json")
    assert refused.status_code == 403
    assert "CSRF" in refused.json()["detail"]
