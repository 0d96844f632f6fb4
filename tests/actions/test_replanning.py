"""What is left of a standing week planned anew: what has begun stays, little else moves, nobody is told before it is taken.

Each plan is judged by the outside judge of the week problem's contract (tests/bench/outside/check_week.py).
"""

import json
import subprocess
import sys
import tempfile
from datetime import date, timedelta
from pathlib import Path

import pytest

from dispatch.actions import (
    absences,
    begun,
    book,
    clock,
    pins,
    planning,
    replanning,
    reporting,
    weather,
    what_changes,
)
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import (
    Boat,
    Customer,
    DayOff,
    HistoryEntry,
    JobKind,
    Notice,
    Outfit,
    Person,
    Place,
    Stage,
    Van,
    Visit,
    Week,
    WeekPlan,
)
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.trade.lanternglass import ZONE
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
OUTSIDE = Path(__file__).parents[1] / "bench" / "outside"
TUESDAY, WEDNESDAY = date(2027, 5, 25), date(2027, 5, 26)


@pytest.fixture
def owner():
    return people.owner()


@pytest.fixture
def posted(owner):
    """Return the standing plan of a week that washes a boat on Tuesday morning."""
    plans.wash(plans.outfit())
    plan = placed()
    planning.post(plan, by=owner)
    plan.refresh_from_db()
    return plan


def stand(moment):
    Outfit.objects.update(stands_at=moment)
    return moment


def rest(posted, owner, **terms):
    plan = replanning.ask(posted.week, by=owner, seconds=1, **terms)
    planning.build(plan)
    plan.refresh_from_db()
    assert plan.fault == ""
    assert outside(plan) == ""
    return plan


def outside(plan):
    """Return what the outside judge finds wrong with a plan."""
    with tempfile.TemporaryDirectory() as folder:
        files = [Path(folder) / name for name in ("problem.json", "plan.json")]
        for path, value in zip(files, (plan.problem, plan.plan), strict=True):
            path.write_text(json.dumps(value))
        done = subprocess.run(
            [sys.executable, str(OUTSIDE / "check_week.py"), *map(str, files)],
            capture_output=True,
            text=True,
            check=False,
        )
    return "" if done.returncode == 0 else done.stdout + done.stderr


def another_wash():
    """Take a second boat into the book, so that there is work left to plan."""
    place = Place.objects.get(key="s5")
    kind = JobKind.objects.get(key="wash")
    boat = Boat.objects.create(
        key="curlew",
        name="Curlew",
        customer=Customer.objects.create(name="Bright", time_zone=ZONE),
        length_m=7.3,
        place=place,
        heading_deg=200,
    )
    job = book.take_job(key="j3", boat=boat, kind=kind, unfinished_cents=50000)
    for stage in job.stages.all():
        weather.judge(stage)


def stops(plan):
    return {
        stop["stage"]: (row["van"], stop["start"])
        for row in plan.plan["van_days"]
        for stop in row["stops"]
    }


def test_with_nothing_amiss_nothing_moves_that_anybody_would_mind(posted, owner):
    draft = rest(posted, owner)
    assert (draft.state, draft.rest, draft.origin) == ("draft", True, posted)
    (before,), (after,) = stops(posted).items(), stops(draft).items()
    assert abs(after[1][1] - before[1][1]) <= 30
    assert {one.kind for one in what_changes.of(draft, posted).visits} <= {
        "near",
        "hands",
    }


def test_a_visit_under_way_stays_and_keeps_its_row(posted, owner):
    visit = Visit.objects.get()
    now = stand(visit.start + timedelta(minutes=20))
    reporting.start(visit.stage, Person.objects.first(), now - timedelta(minutes=10))
    draft = rest(posted, owner)
    frozen = draft.problem["frozen"][0]
    assert frozen["open"]
    assert frozen["stops"][0]["stage"] == "j1.wash"
    planning.post(draft, by=owner)
    assert Visit.objects.get().pk == visit.pk
    assert Visit.objects.get().van_day.plan_id == draft.pk
    assert Stage.objects.get().state == Stage.State.UNDER_WAY


def test_a_visit_that_is_done_is_not_asked_for_again(posted, owner):
    visit = Visit.objects.get()
    who = Person.objects.first()
    stand(visit.start)
    reporting.start(visit.stage, who, clock.now())
    end = stand(visit.end + timedelta(minutes=25))
    another_wash()
    reporting.finish(Stage.objects.get(job__key="j1"), who, end)
    draft = rest(posted, owner)
    row = draft.problem["frozen"][0]
    took = row["stops"][0]["end"] - row["stops"][0]["start"]
    assert took == round((end - visit.start).total_seconds() / 60)
    planning.post(draft, by=owner)
    assert Stage.objects.get(job__key="j1").state == Stage.State.DONE


def test_who_is_away_rides_nowhere_and_nobody_is_told_before(posted, owner):
    rook = Person.objects.get(key="rook")
    stand(plans.at(25, "06:10"))
    said = absences.person_away(rook, TUESDAY, TUESDAY, by=owner, reason="sick")
    assert said == "Rook Ferrante is away on Tuesday 25 May."
    before = Notice.objects.count(), Visit.objects.get().start
    draft = rest(posted, owner, cause=said)
    assert (Notice.objects.count(), Visit.objects.get().start) == before
    assert all(
        "rook" not in row["team"] for row in draft.plan["van_days"] if row["day"] == 1
    )
    found = what_changes.of(draft, posted)
    assert {one.stage for one in found.visits} == {"j1.wash"}
    assert draft.cause == said
    assert "Rook Ferrante" in {one.name for one in found.people}


def test_a_van_off_the_road_sends_the_visit_to_another_day(posted, owner):
    stand(plans.at(25, "06:10"))
    knot = Van.objects.get()
    absences.van_off(knot, TUESDAY, TUESDAY, by=owner, reason="gearbox")
    draft = rest(posted, owner)
    assert [row["day"] for row in draft.plan["van_days"]] == [2]
    (change,) = what_changes.of(draft, posted).visits
    assert (change.kind, change.boat) == ("moved", "Second Wind")
    assert change.before.startswith("Tue ")
    assert change.after.startswith("Wed ")
    assert change.tell == "Ames has not been told of this visit yet."
    assert not change.told_otherwise


def test_a_draft_is_refused_once_the_week_was_posted_again(posted, owner):
    first, second = rest(posted, owner), rest(posted, owner, cause="Rain came early.")
    planning.post(second, by=owner)
    with pytest.raises(Stale, match=r"was posted .* \(Rain came early\.\), since"):
        planning.post(first, by=owner)
    first.refresh_from_db()
    assert first.state == WeekPlan.State.DRAFT


def test_a_draft_is_refused_once_a_visit_of_it_was_begun(posted, owner):
    visit = Visit.objects.get()
    stand(visit.start - timedelta(hours=1))
    draft = rest(posted, owner)
    now = stand(visit.start)
    reporting.start(visit.stage, Person.objects.first(), now)
    with pytest.raises(Stale, match=r"wash on Second Wind was started Tue 25 May"):
        planning.post(draft, by=owner)
    assert Visit.objects.get().start == visit.start


def test_a_whole_week_built_anew_is_refused_once_a_visit_of_it_was_begun(posted, owner):
    visit = Visit.objects.get()
    stand(visit.start - timedelta(hours=1))
    draft = planning.ask(posted.week.starts_on, by=owner, seconds=1)
    planning.build(draft)
    draft.refresh_from_db()
    reporting.start(visit.stage, Person.objects.first(), stand(visit.start))
    with pytest.raises(Stale, match=r"wash on Second Wind was started Tue 25 May"):
        planning.post(draft, by=owner)


def test_a_week_gone_by_is_planned_no_more(posted, owner):
    stand(plans.at(31, "00:01"))
    for ask in (
        lambda: replanning.ask(posted.week, by=owner),
        lambda: planning.ask(posted.week.starts_on, by=owner),
    ):
        with pytest.raises(Refused, match="The week of 24 May has gone by"):
            ask()


def test_leaving_a_draft_aside_leaves_those_before_it_aside_too(posted, owner):
    first, second = rest(posted, owner), rest(posted, owner)
    replanning.leave(second, by=owner)
    states = WeekPlan.objects.filter(pk__in=(first.pk, second.pk))
    assert set(states.values_list("state", flat=True)) == {WeekPlan.State.LEFT}


def test_a_draft_is_refused_once_its_van_would_have_left(posted, owner):
    visit = Visit.objects.get()
    stand(visit.start - timedelta(hours=2))
    draft = rest(posted, owner)
    stand(visit.start + timedelta(minutes=40))
    with pytest.raises(Stale, match=r"Knot leaves at Tue 25 May .* ago"):
        planning.post(draft, by=owner)


def test_a_draft_can_be_left_aside(posted, owner):
    draft = rest(posted, owner)
    with pytest.raises(Stranger):
        replanning.leave(draft, by=people.nobodys())
    replanning.leave(draft, by=owner)
    draft.refresh_from_db()
    assert draft.state == WeekPlan.State.LEFT
    with pytest.raises(Refused, match="Only a draft"):
        replanning.leave(draft, by=owner)
    assert HistoryEntry.objects.filter(verb="leave-draft").count() == 1


def test_it_is_asked_for_by_the_owner_of_a_week_that_stands(posted, owner):
    with pytest.raises(Stranger):
        replanning.ask(posted.week, by=people.nobodys())
    with pytest.raises(Refused, match="No week stands here yet"):
        replanning.ask(Week.objects.create(starts_on=date(2027, 6, 7)), by=owner)
    replanning.ask(posted.week, by=owner)
    with pytest.raises(Refused, match="being built already"):
        replanning.ask(posted.week, by=owner)


def test_a_day_begun_is_taken_to_go_as_planned_while_nobody_tells(posted):
    visit = Visit.objects.get()
    stand(visit.start + timedelta(minutes=5))
    (left,) = begun.of(posted.week)
    assert [(stay.name, stay.how) for stay in left.stays] == [("j1.wash", "as-planned")]
    assert left.out
    DayOff.objects.create(person=Person.objects.get(key="rook"), on=TUESDAY)
    assert begun.of(posted.week) == ()


def test_a_day_gone_by_that_nobody_told_of_is_not_taken_for_done(posted):
    stand(Visit.objects.get().start + timedelta(days=1))
    assert begun.of(posted.week) == ()


def test_what_is_made_fast_stays_to_the_minute(posted, owner):
    """A37: a re-plan changes nothing that is made fast."""
    pins.make_fast(posted, "j1.wash", by=owner)
    stand(plans.at(25, "06:10"))
    draft = rest(posted, owner)
    assert stops(draft) == stops(posted)
