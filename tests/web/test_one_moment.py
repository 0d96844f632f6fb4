"""A page reads what it shows once; what changes something reads it anew."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.actions import plans
from tests.web import people

pytestmark = pytest.mark.django_db


def settings_asked(ask, address: str) -> int:
    """Return how often a request reads the settings."""
    with CaptureQueriesContext(connection) as found:
        assert ask(address).status_code < 400
    return sum('FROM "records_setting"' in one["sql"] for one in found)


def test_a_page_reads_the_settings_once_and_a_form_each_time(client):
    plans.coat(plans.outfit())
    client.force_login(people.owner())
    assert settings_asked(client.get, "/boats/second-wind/") == 1
    assert settings_asked(client.post, "/jobs/j1/agree/") > 1


def test_each_page_reads_them_anew(client):
    plans.coat(plans.outfit())
    client.force_login(people.owner())
    for _ in range(2):
        assert settings_asked(client.get, "/jobs/j1/") == 1
