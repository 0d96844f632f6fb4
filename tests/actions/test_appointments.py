"""A lift slot that the yard gives at another minute: her visits go, and who was told the old time hears the new one."""

from datetime import timedelta

import pytest

from dispatch.actions import (
    appointments,
    board_appointment_snags,
    board_reading,
    book,
    calling,
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
    Outfit,
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


def test_the_promise_that_the_new_minute_outruns_is_told(posted, owner):
    Job.objects.update(promise="hard", promised_by=plans.at(28, "16:30"))
    assert "promised" not in move(owner)
    said = move(owner, plans.at(29, "09:00"))
    assert said.endswith(
        "She is promised by Fri 28 May 16:30, before that: change the promise on the job's page."
    )


def test_nobody_is_told_until_the_week_is_posted_with_it(posted, owner):
    move(owner)
    assert not Notice.objects.filter(reason="moved").exists()
    post(plans.draft([FRIDAY], on_version=posted.week.version), owner)
    told = Notice.objects.get(reason="moved")
    assert told.state == "waiting"
    assert "We will now be with you Fri 28 May between 10:15 and 11:15." in told.body
    assert "lift slot, was moved" in told.body


OTHER_WEEK = plans.at(24, "10:30") + timedelta(days=10)


def test_in_another_week_the_new_minute_is_told_at_once_and_once(posted, owner):
    """It is 19:00 on Sunday, an hour at which customers may be written to."""
    move(owner, OTHER_WEEK)
    told = Notice.objects.get(reason="moved")
    assert (told.state, told.due_at) == ("waiting", shop.NOW)
    assert told.body == (
        "Second Wind: our visit of Thu 27 May at Marrow Road has moved. "
        "The appointment is now Thu 3 Jun 10:30; we will write again the evening before. "
        "Reason: the fixed appointment, as a lift slot, was moved."
    )
    job = Job.objects.get()
    assert appointments.then(job) == "Ames is told by message at once that it moved."
    assert appointments.told(job) is None
    assert snags(WeekPlan.objects.get(pk=posted.pk)) == []
    post(plans.draft([], on_version=posted.week.version), owner)
    assert Notice.objects.filter(reason="moved").count() == 1


def test_moved_once_more_what_waits_is_dropped_and_the_last_minute_told(posted, owner):
    move(owner, OTHER_WEEK)
    move(owner, OTHER_WEEK + timedelta(hours=2))
    states = dict(Notice.objects.filter(reason="moved").values_list("state", "body"))
    assert set(states) == {"dropped", "waiting"}
    assert "is now Thu 3 Jun 12:30" in states["waiting"]


def test_moved_once_more_after_it_was_told_the_last_minute_is_told_too(posted, owner):
    move(owner, OTHER_WEEK)
    Notice.objects.filter(reason="moved").update(state="sent")
    move(owner, OTHER_WEEK + timedelta(hours=2))
    waits = Notice.objects.get(reason="moved", state="waiting")
    assert "is now Thu 3 Jun 12:30" in waits.body


def test_once_the_old_day_has_gone_by_who_knows_the_minute_is_called(posted, owner):
    move(owner, OTHER_WEEK)
    Notice.objects.filter(reason="moved").update(state="sent")
    Outfit.objects.update(stands_at=plans.at(29, "09:00"))
    move(owner, OTHER_WEEK + timedelta(days=7))
    ((why,),) = [card.why for card in calling.cards()]
    assert why.startswith(
        "Ames was told that the appointment of Second Wind is Thu 3 Jun 10:30, and"
    )


def test_moved_back_into_the_week_it_is_told_when_that_is_posted(posted, owner):
    move(owner, OTHER_WEEK)
    Notice.objects.filter(reason="moved").update(state="sent")
    move(owner, FRIDAY_AT)
    assert Notice.objects.filter(reason="moved").count() == 1
    post(plans.draft([FRIDAY], on_version=posted.week.version), owner)
    assert "be with you Fri 28 May between 10:15 and 11:15" in (
        Notice.objects.filter(reason="moved").latest("pk").body
    )


def test_a_yard_that_moves_her_makes_nobody_give_way(posted, owner):
    Job.objects.update(bumped=2)
    move(owner)
    post(plans.draft([FRIDAY], on_version=posted.week.version), owner)
    assert Notice.objects.filter(reason="moved", state="waiting").count() == 1
    assert list(calling.cards()) == []


def test_who_may_not_be_written_to_any_more_is_called_by_hand_once(posted, owner):
    Customer.objects.update(text_consent=False)
    move(owner, OTHER_WEEK)
    assert not Notice.objects.filter(reason="moved").exists()
    (card,) = calling.cards()
    assert "The appointment is now Thu 3 Jun 10:30" in card.why[0]
    assert card.why[0].endswith(
        "Ames has agreed to no text and no e-mail: call by hand."
    )
    assert "call by hand" in appointments.then(Job.objects.get())
    calling.called("j1", by=owner)
    post(plans.draft([], on_version=posted.week.version), owner)
    assert list(calling.cards()) == []


def test_where_nobody_was_told_there_is_nobody_to_tell(posted, owner):
    Notice.objects.all().delete()
    move(owner, OTHER_WEEK)
    assert not Notice.objects.exists()
    assert appointments.then(Job.objects.get()) == ""


def test_a_draft_says_who_was_told_the_old_time(posted, owner):
    move(owner)
    standing = WeekPlan.objects.get(pk=posted.pk)
    changes = what_changes.of(plans.draft([FRIDAY]), standing)
    assert {one.kind for one in changes.visits} == {"new"}
    assert all("expects us from Thu 09:30" in one.tell for one in changes.visits)
    assert all(one.told_otherwise for one in changes.visits)


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
