"""A lift slot that the yard gives at another minute: her visits go, and who was told the old time hears the new one."""

from datetime import timedelta

import pytest

from dispatch.actions import (
    appointments,
    board_appointment_snags,
    board_reading,
    book,
    planning,
    weather,
    what_changes,
)
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import (
    Customer,
    HistoryEntry,
    Job,
    JobKind,
    Notice,
    Stage,
    Visit,
    WeekPlan,
)
from tests.actions import plans, shop
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
THURSDAY = (
    27, "09:00", "13:00", [("j1.slings", "09:45", "11:00"), ("j1.pad", "11:00", "12:00")]
)  # fmt: skip
FRIDAY = (
    28, "09:00", "13:00", [("j1.slings", "10:30", "11:45"), ("j1.pad", "11:45", "12:45")]
)  # fmt: skip
FRIDAY_AT = plans.at(28, "10:30")


@pytest.fixture
def owner():
    return people.owner()


@pytest.fixture
def posted(owner):
    """A bottom wash held to Thursday 09:45, posted; her customer was told, and a reminder waits."""
    place = plans.outfit()
    job = book.take_job(
        key="j1",
        boat=shop.boat(place, feet=32),
        kind=JobKind.objects.get(key="bottom-wash"),
        fixed_start=plans.at(27, "09:45"),
        unfinished_cents=64000,
    )
    weather.take_in(place)
    for stage in job.stages.all():
        weather.judge(stage)
    Customer.objects.update(phone="+12075550131", text_consent=True)
    post(plans.draft([THURSDAY]), owner)
    Notice.objects.filter(reason="arrival").update(state="sent", settled_at=shop.NOW)
    return WeekPlan.objects.get(state="standing")


def post(draft, owner):
    planning.post(draft, by=owner, why="So be it.")


def move(owner, to=FRIDAY_AT, why=""):
    return appointments.move(
        Job.objects.select_related("boat__place").get(), to, by=owner, why=why
    )


def test_her_visits_and_what_waits_about_them_go_and_the_new_minute_is_held(
    posted, owner
):
    assert Visit.objects.count() == 2
    said = move(owner, why="The yard rang.")
    assert said.endswith(
        "the appointment of Thu 27 May 09:45 is Fri 28 May 10:30 now. 2 posted visits were taken off."
    )
    assert not Visit.objects.exists()
    assert Job.objects.get().fixed_start == FRIDAY_AT
    assert Stage.objects.get(key="slings").fixed_start == FRIDAY_AT
    assert not Notice.objects.filter(state="waiting").exists()
    line = HistoryEntry.objects.get(verb="move-appointment")
    assert (line.why, line.actor) == ("The yard rang.", "orla")


def test_nobody_is_told_until_the_week_is_posted_with_it(posted, owner):
    move(owner)
    assert not Notice.objects.filter(reason="moved").exists()
    post(plans.draft([FRIDAY], on_version=posted.week.version), owner)
    told = Notice.objects.get(reason="moved")
    assert told.state == "waiting"
    assert "We will now be with you Fri 28 May between 10:15 and 11:15." in told.body
    assert "lift slot, was moved" in told.body


def test_a_draft_says_who_was_told_the_old_time(posted, owner):
    move(owner)
    standing = WeekPlan.objects.get(pk=posted.pk)
    changes = what_changes.of(plans.draft([FRIDAY]), standing)
    assert {one.kind for one in changes.visits} == {"new"}
    assert all("was told Thu 09:30" in one.tell for one in changes.visits)


def test_the_board_says_that_it_is_not_planned_and_who_knows_the_old_time(
    posted, owner
):
    assert snags(posted) == []
    move(owner)
    (snag,) = snags(WeekPlan.objects.get(pk=posted.pk))
    assert snag.sentence.startswith(
        "Her appointment is Fri 28 May 10:30, and the week that stands has no visit for it."
    )
    assert "was told Thu 27 May 09:30." in snag.sentence
    assert snag.anew
    post(plans.draft([FRIDAY], on_version=posted.week.version), owner)
    assert snags(WeekPlan.objects.get(state="standing")) == []


def snags(plan):
    return list(board_appointment_snags.of(board_reading.read(plan)))


def test_a_draft_from_before_is_not_posted(posted, owner):
    old = plans.draft([THURSDAY], on_version=posted.week.version)
    move(owner)
    (snag,) = snags(old)
    assert "this draft has her Thu 09:45" in snag.sentence
    with pytest.raises(Stale, match=r"is Fri 28 May 10:30 now.*Build it again"):
        post(old, owner)


@pytest.mark.parametrize(
    ("to", "said"),
    [
        (None, "Say the new day and time"),
        (shop.NOW - timedelta(hours=1), "has gone by"),
        (plans.at(27, "09:45"), "It is Thu 27 May 09:45 already"),
        (shop.NOW + timedelta(days=1500), "Check the year"),
    ],
)
def test_a_time_that_cannot_be_moves_nothing(posted, owner, to, said):
    with pytest.raises(Refused, match=said):
        move(owner, to)
    assert Visit.objects.count() == 2


def test_what_is_begun_is_not_moved_nor_by_anybody_else(posted, owner):
    with pytest.raises(Stranger):
        move(people.crew())
    Stage.objects.filter(key="slings").update(state="under-way")
    with pytest.raises(Refused, match="no appointment to come"):
        move(owner)
    assert appointments.to_come() == ()


@pytest.mark.parametrize("written", ["soon", "2027-13-40T10:30"])
def test_what_is_no_time_is_refused_in_words(posted, written):
    with pytest.raises(Refused, match=r"Give a day and a time as .* Nothing was moved"):
        appointments.read(Job.objects.get(), written)
