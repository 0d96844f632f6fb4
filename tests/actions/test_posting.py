"""What may have changed between a draft and its posting: done, moved, taken out."""

from datetime import timedelta

import pytest

from dispatch.actions import planning
from dispatch.actions.errors import Stale
from dispatch.records.models import Account, Stage, Visit, Week, WeekPlan
from tests.actions import posted

pytestmark = pytest.mark.django_db
NEXT = posted.MONDAY + timedelta(days=7)


@pytest.fixture
def owner():
    return Account.objects.create(username="orla", role="owner")


@pytest.fixture
def prep():
    """A stage that stands in the week of the 24th, on its Monday from 07:30."""
    posted.sprayed()
    stage = Stage.objects.get(key="prep")
    posted.visit(posted.van_day(posted.person("rook", "prep")), stage, "07:30")
    return stage


def draft(*names, van="knot"):
    """A draft of the week after, with each stage at its Tuesday's noon."""
    row = {
        "van": van,
        "day": 1,
        "team": ["rook"],
        "depart": 2100,
        "back": 2400,
        "break": None,
        "stops": [
            {"do": "visit", "stage": name, "start": 2160, "end": 2220} for name in names
        ],
    }
    week = Week.objects.create(starts_on=NEXT)
    return WeekPlan.objects.create(
        week=week,
        state="draft",
        asked_at=posted.at("06:00"),
        plan={"van_days": [row]},
    )


def test_a_visit_of_a_week_gone_by_moves_to_the_new_week(owner, prep):
    posted.stand("20:00", posted.MONDAY + timedelta(days=6))
    planning.post(draft("j1.prep"), by=owner)
    assert Visit.objects.get().van_day.plan.week.starts_on == NEXT


def test_a_stage_that_is_still_to_come_in_another_week_is_stale(owner, prep):
    posted.stand("06:00")
    plan = draft("j1.prep")
    with pytest.raises(Stale, match="stands in week of 2027-05-24"):
        planning.post(plan, by=owner)
    plan.refresh_from_db()
    assert plan.state == "draft"
    assert Visit.objects.get().van_day.plan.week.starts_on == posted.MONDAY


def test_a_stage_done_since_the_draft_is_stale(owner, prep):
    Stage.objects.filter(pk=prep.pk).update(state="done", ended_at=posted.at("09:00"))
    with pytest.raises(Stale, match=r"j1\.prep was done"):
        planning.post(draft("j1.prep"), by=owner)


def test_a_van_taken_out_since_the_draft_is_stale(owner, prep):
    with pytest.raises(Stale, match="Build it again"):
        planning.post(draft("j1.mask", van="sold"), by=owner)
    assert Visit.objects.count() == 1
