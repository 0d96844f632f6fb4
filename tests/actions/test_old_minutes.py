"""A draft built before the minutes of its work were changed: what nobody was told of yet is not posted by old minutes."""

import pytest

from dispatch.actions import planning, settings, sweeping
from dispatch.actions.errors import Stale
from dispatch.records.models import Job, Visit, WeekPlan
from tests.actions import plans

pytestmark = pytest.mark.django_db


@pytest.fixture
def drafted():
    """A draft of one maintenance wash, Monday from 09:00 by both hands."""
    job = plans.wash(plans.outfit())
    stage = job.stages.get()
    length = plans.draft([]).problem["stages"][0]["minutes"]["2"]
    WeekPlan.objects.all().delete()
    end = f"{9 + length // 60:02}:{length % 60:02}"
    visit = (f"j1.{stage.key}", "09:00", end)
    return plans.draft([(24, "08:30", "13:00", [visit])])


def slower(owner):
    """Aboard everything takes half as long again, and the book is reckoned by it."""
    job = Job.objects.get()
    job.boat.place.water = False
    job.boat.place.save()
    settings.change("labour.no_water", 1.5, by=owner)
    sweeping.sweep("rest")


def test_it_is_refused_with_both_minutes(drafted):
    owner = plans.owner()
    slower(owner)
    with pytest.raises(Stale, match=r"takes 1 person \d+ min by now, \d+ min in this"):
        planning.post(drafted, by=owner)
    assert not Visit.objects.exists()
    drafted.refresh_from_db()
    assert drafted.state == "draft"


def test_with_the_minutes_it_was_built_by_it_is_posted(drafted):
    owner = plans.owner()
    planning.post(drafted, by=owner)
    assert Visit.objects.count() == 1


def test_what_stands_keeps_the_hours_it_was_told(drafted):
    owner = plans.owner()
    planning.post(drafted, by=owner)
    slower(owner)
    again = WeekPlan.objects.get()
    again.pk, again.state = None, "draft"
    again.on_version += 1
    again.save()
    planning.post(again, by=owner)
    assert Visit.objects.get().van_day.plan == again
