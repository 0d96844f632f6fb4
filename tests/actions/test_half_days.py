"""A week keeps half-days empty at its end: how many is the outfit's own assumption, which a setting changes."""

import pytest

from dispatch.actions import house_rules, planning
from dispatch.actions.errors import Refused
from dispatch.records.models import Job, Override, Setting
from tests.actions import plans

pytestmark = pytest.mark.django_db
# Both people ride with the one van; their duty is 07:00 to 17:00.
THURSDAY = (27, "07:00", "14:00", [("j1.prep", "07:30", "13:30")])
FRIDAY = (28, "07:00", "14:00", [("j1.mask", "07:30", "13:30")])


@pytest.fixture
def coat():
    return plans.coat(plans.outfit())


def found(*days) -> list[str]:
    plan = plans.draft(days)
    plan.plan["van_days"] = [row | {"break": None} for row in plan.plan["van_days"]]
    broken = house_rules.objections(plan)
    return [one.sentence for one in broken if one.code == "no-half-day"]


def test_a_week_that_leaves_a_day_to_somebody_keeps_it(coat):
    Setting.objects.create(name="half_day.first_timers_pct", value=100)
    assert found(THURSDAY) == []


def test_three_hours_after_work_are_no_half_day(coat):
    """Both come home at 14:00 on both days: four times three hours, none of four."""
    Setting.objects.create(name="half_day.first_timers_pct", value=100)
    (said,) = found(THURSDAY, FRIDAY)
    assert (
        "leave no half-days of a person empty (4 h in one piece); 1 should be," in said
    )
    Setting.objects.create(name="half_day.minutes", value=180)
    assert found(THURSDAY, FRIDAY) == []


def test_a_rush_of_new_boats_wants_two(coat):
    """The only boat was never here: all of a hundred. Home at 13:00 on one day leaves a half-day each: two."""
    short = (28, "07:00", "13:00", [("j1.mask", "07:30", "12:30")])
    assert found(THURSDAY, short) == []
    Setting.objects.create(name="half_day.rush_count", value=3)
    (said,) = found(THURSDAY, short)
    assert "leave 2 half-days" in said
    assert "3 should be, as more than 40 % of its boats are here for the first" in said
    job = Job.objects.get(key="j1")
    job.pk, job.key, job.state = None, "j0", "handed-back"
    job.save()
    assert found(THURSDAY, short) == []


def test_the_owner_may_post_it_all_the_same_with_a_reason(coat):
    owner, plan = plans.owner(), plans.draft([THURSDAY, FRIDAY])
    with pytest.raises(Refused, match="Say why"):
        planning.post(plan, by=owner)
    planning.post(plan, by=owner, why="The yard shuts for a week on Saturday.")
    assert Override.objects.filter(plan=plan, code="no-half-day").exists()
