"""A fuzzer calls every endpoint by its schema: nothing crashes, and nothing undocumented comes back."""

import json

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
from drf_spectacular.generators import SchemaGenerator
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rest_framework.authtoken.models import Token
from schemathesis.specs.openapi import checks

from dispatch.actions import access, sweeping
from dispatch.records.models import Person, WeekPlan
from tests.actions import posted, shop
from tests.api.test_every_endpoint import FILLED

pytestmark = [
    pytest.mark.django_db,
    pytest.mark.services,
]
CHECKS = [
    schemathesis.checks.not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_schema_conformance,
]
SCHEMA = schemathesis.openapi.from_dict(
    SchemaGenerator().get_schema(request=None, public=True)
)
SCHEMA.app = get_wsgi_application()
OPERATIONS = {
    f"{found.ok().method} {found.ok().path}": found.ok()
    for found in SCHEMA.get_all_operations()
}


@pytest.fixture(autouse=True)
def connection_kept():
    """A request's end closes the connection; the test's transaction lives in it."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.fixture
def headers(orla):
    return {"Authorization": f"Token {Token.objects.create(user=orla).key}"}


@pytest.fixture
def names(orla, sky, wash):
    """Every name an address may hold, of something that is there: a job, a posted day, a draft."""
    shop.one_part()
    sweeping.sweep()
    orla.person = Person.objects.create(key="orla", name="Orla", initials="O")
    orla.save()
    day = posted.van_day(orla.person)
    posted.visit(day, wash.stages.get(), "07:30")
    draft = WeekPlan.objects.create(
        week=day.plan.week,
        state="draft",
        asked_at=shop.NOW,
        zero_at=shop.NOW,
        plan=json.loads((shop.FIXTURES / "weeks/six_jobs.plan.json").read_text()),
    )
    return FILLED | {
        "pk": draft.pk,
        "id": draft.pk,
        "word": access.boat_link(wash),
    }


@pytest.mark.parametrize("name", OPERATIONS)
def test_any_call_is_answered_by_the_schema(name, headers, names):
    operation = OPERATIONS[name]

    @settings(
        max_examples=10,
        deadline=None,
        database=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    @given(
        case=st.one_of(
            operation.as_strategy(generation_mode=mode)
            for mode in schemathesis.GenerationMode
        ),
        real=st.booleans(),
    )
    def answers(case, real):
        if real:
            case.path_parameters = {
                part: names.get(part, value)
                for part, value in (case.path_parameters or {}).items()
            }
        case.call_and_validate(headers=headers, checks=CHECKS)

    answers()
