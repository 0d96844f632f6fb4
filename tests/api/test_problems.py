"""Whatever goes wrong is told as problem details: RFC 9457 section 3."""

import json

import pytest

from dispatch.api import problems

pytestmark = pytest.mark.django_db


def told(answer):
    """The problem of an answer, with the members RFC 9457 section 3.1 gives every problem."""
    assert answer["Content-Type"] == "application/problem+json"
    problem = json.loads(answer.content)
    assert problem["status"] == answer.status_code
    assert problem["title"]
    assert problem["detail"]
    assert problem["instance"].startswith("/api/")
    return problem


def kind(problem):
    return problem["type"].rstrip("/").rpartition("/")[2]


def test_not_signed_in_is_401_and_says_how_to(nobody):
    answer = nobody.get("/api/weeks/")
    assert (answer.status_code, kind(told(answer))) == (401, "sign-in")
    assert answer["WWW-Authenticate"] == "Token"


def test_a_stranger_is_403_with_the_actions_sentence(crew):
    answer = crew.get("/api/weeks/")
    problem = told(answer)
    assert (answer.status_code, kind(problem)) == (403, "stranger")
    assert problem["detail"].startswith("Only the owner")


@pytest.mark.parametrize(
    "path", ["/api/", "/api/nothing/", "/api/weeks", "/api/weeks/2027-02-30/"]
)
def test_an_unknown_address_is_404(owner, path):
    answer = owner.get(path)
    assert (answer.status_code, kind(told(answer))) == (404, "not-found")


def test_an_unknown_thing_is_404_and_names_it(owner):
    problem = told(owner.get("/api/plans/99/"))
    assert problem["detail"].startswith("There is no plan 99")


def test_wrong_fields_are_400_each_by_name(owner, yard):
    body = {"seconds": 0, "seed": "x"}
    answer = owner.post("/api/weeks/2027-05-24/build/", body, format="json")
    problem = told(answer)
    assert (answer.status_code, kind(problem)) == (400, "invalid")
    assert {fault["field"] for fault in problem["errors"]} == {"seconds", "seed"}
    assert "seconds" in problem["detail"]


@pytest.mark.parametrize("body", ["{", "[1]", '"x"', "[" * 200_000, "\udcff"])
def test_a_body_that_is_no_object_is_400(owner, yard, body):
    answer = owner.post(
        "/api/weeks/2027-05-24/build/",
        body.encode("utf-8", "surrogateescape"),
        content_type="application/json",
    )
    assert answer.status_code == 400
    told(answer)


def test_a_body_of_more_than_a_megabyte_is_413(owner, yard):
    answer = owner.post(
        "/api/weeks/2027-05-24/build/", {"x": "x" * 1_000_001}, format="json"
    )
    assert answer.status_code == 413
    told(answer)


def test_a_form_is_415_and_a_wrong_method_405(owner, yard):
    form = owner.post("/api/weeks/2027-05-24/build/", {"seed": 1}, format="multipart")
    assert form.status_code == 415
    told(form)
    put = owner.put("/api/weeks/", {}, format="json")
    assert put.status_code == 405
    assert told(put)["type"] == "about:blank"
    assert "GET" in put["Allow"]


def test_a_crash_tells_nothing_of_the_inside(owner, monkeypatch):
    def breaks(plan):
        raise ZeroDivisionError("the inside")

    monkeypatch.setattr("dispatch.api.plans.known", breaks)
    owner.raise_request_exception = False
    answer = owner.get("/api/plans/1/")
    assert (answer.status_code, kind(told(answer))) == (500, "failed")
    assert b"inside" not in answer.content


@pytest.mark.parametrize("name", problems.KINDS)
def test_every_kind_of_problem_is_told_at_its_address(nobody, name):
    answer = nobody.get(f"/api/problems/{name}/")
    assert answer.status_code == 200
    assert answer.json()["meaning"]
