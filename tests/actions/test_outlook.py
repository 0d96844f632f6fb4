"""The demo week, loaded, swept and told in words."""

from datetime import timedelta

import pytest
from django.utils import timezone

from dispatch.actions import due, outlook, scenario, sweeping
from dispatch.actions.scenario_rows import read
from dispatch.records.models import DueWork, Place
from tests.actions import shop

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(240)]


def test_the_demo_week_is_judged_and_told(settings):
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    folder = shop.FIXTURES / "demo"
    scenario.load(
        folder,
        passwords={entry.name: "x" * 12 for entry in read(folder / "people.json")},
    )
    # Due before all that the loading left, so that each stage is judged once, by the sky that came.
    at = timezone.now() - timedelta(hours=1)
    for place in Place.objects.filter(boats__isnull=False).distinct():
        due.put("take-in-forecast", place.key, due_at=at)
    sweeping.sweep()
    assert not DueWork.objects.filter(done_at__isnull=True).exists()
    assert not DueWork.objects.exclude(fault="").exists()
    said = list(outlook.lines())
    assert sum(not line.startswith(" ") for line in said) == 14
    assert not any("not judged" in line for line in said)
    assert any("Spray starboard" in line and "Fri 15:" in line for line in said)
