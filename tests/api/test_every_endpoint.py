"""Every endpoint is documented, and refuses whoever it is not for."""

import re
from pathlib import Path

import pytest
from django.core.management import call_command
from django.urls import URLPattern
from drf_spectacular.generators import SchemaGenerator

from dispatch.api import urls
from dispatch.api.nowhere import Nowhere

pytestmark = pytest.mark.django_db
README = (Path(urls.__file__).parent / "README.md").read_text()
FILLED = {
    "starts_on": "2027-05-24",
    "pk": "1",
    "id": "1",
    "key": "j1",
    "place": "s5",
    "name": "limits.rain_mm",
    "kind": "stale",
    "job_kind": "wash",
    "position": "2",
    "stage": "j1.wash",
    "word": "none:of:ours",
}
OPEN_TO_ALL = {("token/", "post"), ("problems/<slug:kind>/", "get")}
OPEN_TO_ALL |= {("boat/<str:word>/", "get")}  # its word is its key
OPEN_TO_SIGNED_IN = {("schema/", "get"), ("token/", "delete")}
OPEN_TO_CREW = {("route/", "get")}


def view_of(pattern: URLPattern):
    return pattern.callback.cls


ROUTES = sorted(
    (str(pattern.pattern), method)
    for pattern in urls.urlpatterns
    if view_of(pattern) is not Nowhere
    for method in ("get", "post", "put", "patch", "delete")
    if hasattr(view_of(pattern), method)
)
CLOSED = [route for route in ROUTES if route not in OPEN_TO_ALL]
OWNERS = [route for route in CLOSED if route not in OPEN_TO_SIGNED_IN | OPEN_TO_CREW]


def path(route: str) -> str:
    return "/api/" + re.sub(r"<\w+:(\w+)>", lambda found: FILLED[found[1]], route)


def call(client, route, method):
    return getattr(client, method)(path(route), {}, format="json")


def test_there_are_routes_to_look_at():
    assert len(ROUTES) >= 18
    assert ("settings/<name:name>/", "put") in OWNERS


@pytest.mark.parametrize(("route", "method"), CLOSED)
def test_nobody_gets_in_without_signing_in(nobody, wash, route, method):
    answer = call(nobody, route, method)
    assert answer.status_code == 401
    assert answer["Content-Type"] == "application/problem+json"


@pytest.mark.parametrize(("route", "method"), OWNERS)
def test_the_crew_is_refused_what_is_the_owners(crew, wash, route, method):
    answer = call(crew, route, method)
    assert answer.status_code == 403
    assert answer.json()["detail"].startswith("Only the owner")


@pytest.mark.parametrize(("route", "method"), OWNERS)
def test_the_owner_is_not_refused(owner, wash, route, method):
    assert call(owner, route, method).status_code not in (401, 403, 405, 500)


def documented():
    return SchemaGenerator().get_schema(request=None, public=True)["paths"]


def test_every_endpoint_is_in_the_schema_with_words_and_failures():
    paths = documented()
    for route, method in ROUTES:
        if route == "schema/":
            continue
        address = re.sub(r"<\w+:(\w+)>", r"{\1}", route).replace("{pk}", "{id}")
        told = paths[f"/api/{address}"][method]
        assert told["description"]
        failures = {code for code in told["responses"] if code >= "400"}
        assert failures, route
        if (route, method) in OWNERS:
            assert failures >= {"401", "403"}, route


@pytest.mark.parametrize("route", sorted({route for route, _ in ROUTES}))
def test_every_address_is_in_the_rooms_readme(route):
    told = re.sub(r"<\w+:(\w+)>", r"{\1}", route)
    told = told.replace("{starts_on}", "{date}").replace("{pk}", "{id}")
    assert f"`{told}`" in README


def test_the_schema_has_no_warnings(tmp_path):
    call_command(
        "spectacular",
        validate=True,
        fail_on_warn=True,
        file=str(tmp_path / "schema.yml"),
    )
    assert (tmp_path / "schema.yml").read_text().startswith("openapi: 3.")
