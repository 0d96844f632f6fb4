"""From the book to a posted week: build, judge, post once, tell each customer once."""

from datetime import date, time

import pytest

from dispatch.actions import (
    book,
    planning,
    plugins,
    snapshot,
    sweeping,
    telling,
    weather,
)
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import (
    Account,
    Duty,
    HistoryEntry,
    JobKind,
    Notice,
    Person,
    Skill,
    Van,
    Visit,
    Week,
    WeekPlan,
)
from tests.actions import shop
from tests.trade.lanternglass import WEATHER

pytestmark = pytest.mark.django_db
MONDAY = date(2027, 5, 24)


@pytest.fixture
def crew():
    for name in ("rook", "teague"):
        person = Person.objects.create(
            key=name, name=name.title(), initials=name[:2], drives=True
        )
        for skill in ("prep", "mask", "lead"):
            Skill.objects.create(person=person, name=skill)
        for weekday in range(5):
            Duty.objects.create(
                person=person, weekday=weekday, start=time(7), end=time(17)
            )


@pytest.fixture
def place():
    shop.outfit()
    shop.catalogue()
    yard = shop.driveway()
    Van.objects.create(
        key="knot",
        name="Knot",
        base=yard,
        seats=5,
        gear=["washer"],
        duty_start=time(6),
        duty_end=time(18),
    )
    options = {
        "folder": str(WEATHER),
        "file": "forecast_issued_sun_1800.csv",
        "issued_at": "2027-05-23T18:00:00-04:00",
    }
    plugins.enable("weather_file", options)
    plugins.enable("weather_veto", {})
    return yard


@pytest.fixture
def owner():
    return Account.objects.create(username="orla", role="owner")


@pytest.fixture
def draft(place, crew, owner):
    boat = shop.boat(place)
    boat.customer.phone, boat.customer.text_consent = "+12075550131", True
    boat.customer.save()
    book.take_job(
        key="j1",
        boat=boat,
        kind=JobKind.objects.get(key="wash"),
        unfinished_cents=50000,
    )
    weather.take_in(place)
    plan = planning.ask(MONDAY, by=owner, seconds=1)
    sweeping.sweep()
    plan.refresh_from_db()
    return plan


def test_a_swept_request_becomes_a_judged_draft(draft):
    assert (draft.state, draft.fault) == ("draft", "")
    assert draft.plan["unplaced"] == []
    assert draft.progress["phase"]


def test_posting_writes_visits_notice_and_history_once(draft, owner):
    planning.post(draft, by=owner)
    visit = Visit.objects.get()
    assert visit.van_day.team.exists()
    notice = Notice.objects.get(reason="arrival")
    assert (notice.reason, notice.channel, notice.state) == (
        "arrival",
        "text",
        "waiting",
    )
    assert "Second Wind" in notice.body
    assert Week.objects.get().version == 1
    assert HistoryEntry.objects.filter(verb="post-week").count() == 1
    with pytest.raises(Refused, match="Only a draft"):
        planning.post(draft, by=owner)


def test_a_draft_built_before_another_post_is_stale(draft, owner):
    Week.objects.update(version=5)
    with pytest.raises(Stale, match="Build it again"):
        planning.post(draft, by=owner)
    assert not Visit.objects.exists()


def test_only_the_owner_posts(draft):
    crew = Account.objects.create(
        username="rook", role="crew", person=Person.objects.get(key="rook")
    )
    with pytest.raises(Stranger):
        planning.post(draft, by=crew)


def test_one_week_is_built_once_at_a_time(place, crew, owner):
    planning.ask(MONDAY, by=owner)
    with pytest.raises(Refused, match="being built already"):
        planning.ask(MONDAY, by=owner)


def test_a_build_that_was_stopped_stands_in_the_history_once(place, owner):
    plan = planning.ask(MONDAY, by=owner, seconds=1)
    planning.stop(plan, by=owner)
    planning.stop(plan, by=owner)
    row = HistoryEntry.objects.get(verb="stop-week")
    assert (row.by, row.subject) == (owner, "week 2027-05-24")
    assert row.sentence.startswith("Stopped building the week of 24 May")


def test_a_week_with_no_people_says_so(place, owner):
    plan = planning.ask(MONDAY, by=owner)
    planning.build(plan)
    plan.refresh_from_db()
    assert plan.state == WeekPlan.State.FAILED
    assert "no people" in plan.fault


def test_the_end_of_a_job_tells_the_customer_once(draft, owner, tmp_path):
    plugins.enable("notify_file", {"file": str(tmp_path / "sent.jsonl")})
    job = JobKind.objects.get(key="wash").jobs.get()
    book.mark_done(job.stages.get(), started_at=None, ended_at=shop.NOW)
    job.refresh_from_db()
    assert job.state == "handed-back"
    Notice.objects.filter(reason="pickup").update(due_at=shop.NOW)
    assert telling.drain() == 1
    assert telling.drain() == 0
    assert (tmp_path / "sent.jsonl").read_text().count("\n") == 1


def test_the_snapshot_bars_minors_from_the_gun(place, crew, owner):
    Person.objects.filter(key="rook").update(born=date(2010, 1, 1))
    kind = JobKind.objects.get(key="spray-coat")
    book.take_job(key="j1", boat=shop.boat(place), kind=kind, sheet=shop.one_part())
    week = Week.objects.create(starts_on=MONDAY)
    stages = {stage["id"]: stage for stage in snapshot.of(week)["stages"]}
    assert stages["j1.port"]["barred"] == ["rook"]
    assert stages["j1.inside"]["barred"] == []
    assert stages["j1.port"]["windows"] == []
