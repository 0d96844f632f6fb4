"""What may have changed between a draft and its posting: done, moved, taken out."""

from datetime import timedelta

import pytest

from dispatch.actions import book, planning, reporting, show_estimate
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


def again(*names, team=("rook",), day=0):
    """A draft of the same week, posted later on its Monday, with each stage at a day's noon."""
    start = day * 1440
    stops = [
        {"do": "visit", "stage": name, "start": start + 720, "end": start + 780}
        for name in names
    ]
    row = {
        "van": "knot",
        "day": day,
        "team": list(team),
        "depart": start + 660,
        "back": start + 960,
        "break": None,
        "stops": stops,
    }
    return WeekPlan.objects.create(
        week=Week.objects.get(starts_on=posted.MONDAY),
        state="draft",
        asked_at=posted.at("09:30"),
        plan={"van_days": [row]},
    )


@pytest.fixture
def done(owner, prep):
    """The week's first visit is done by 09:00; another stands at 14:00."""
    mask = Stage.objects.get(key="mask")
    posted.visit(prep.visit.van_day, mask, "14:00")
    posted.stand("09:10")
    rook = posted.Person.objects.get(key="rook")
    reporting.start(prep, rook, posted.at("07:30"))
    reporting.finish(Stage.objects.get(pk=prep.pk), rook, posted.at("09:00"))
    return Visit.objects.get(stage=prep)


def test_a_week_posted_again_keeps_what_is_done_with_its_team(owner, done):
    plan = again("j1.mask")
    planning.post(plan, by=owner)
    kept = Visit.objects.select_related("van_day").get(pk=done.pk)
    assert kept.van_day.plan == plan
    assert [one.key for one in kept.van_day.team.all()] == ["rook"]
    assert kept.van_day.depart == posted.at("07:00")
    assert kept.van_day.visits.count() == 2
    assert Visit.objects.get(stage__key="mask").start == posted.at("12:00")


def test_on_another_day_the_old_one_stands_beside_the_new(owner, done):
    plan = again("j1.mask", day=1)
    planning.post(plan, by=owner)
    assert Visit.objects.get(pk=done.pk).van_day.plan == plan
    assert plan.van_days.count() == 2


def test_another_team_in_the_van_takes_nobodys_work_for_its_own(owner, done):
    posted.person("teague", "mask")
    plan = again("j1.mask", team=("teague",))
    planning.post(plan, by=owner)
    kept = Visit.objects.select_related("van_day").get(pk=done.pk)
    assert [one.key for one in kept.van_day.team.all()] == ["rook"]
    assert [one.key for one in plan.van_days.get().team.all()] == ["teague"]


def test_what_nobody_began_and_the_new_plan_leaves_out_is_gone(owner, done):
    planning.post(again(), by=owner)
    assert [visit.stage.key for visit in Visit.objects.all()] == ["prep"]


def test_a_visit_under_way_stays_where_the_new_plan_leaves_it_out(owner, done):
    rook = posted.Person.objects.get(key="rook")
    reporting.start(Stage.objects.get(key="mask"), rook, posted.at("09:05"))
    planning.post(again(), by=owner)
    assert Visit.objects.filter(stage__key="mask").exists()


def test_the_estimate_of_a_like_boat_still_knows_who_did_it(owner, done):
    planning.post(again("j1.mask"), by=owner)
    other = done.stage.job.boat
    other.pk, other.key, other.name = None, "other", "Other"
    other.save()
    job = done.stage.job
    like = book.take_job(key="j2", boat=other, kind=job.kind, sheet=job.sheet)
    (took,) = show_estimate.of(like).took
    # Of the 90 minutes on site she dried for 45 after the wash.
    assert (took.team, took.real_minutes) == (1, 45)
