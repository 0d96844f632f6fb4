"""What a customer is told ahead of a visit, by the clock and by the rows as they are then; and when it moved.

When each goes out is the outfit's own table: two working days before at 16:00, the evening before at 17:00 (held up to
two hours while a new forecast is judged), that morning, at once when it moved by more than half an hour, a year on.
"""

import json
from datetime import UTC, datetime, timedelta

import pytest

from dispatch.actions import (
    book,
    calling,
    due,
    history,
    planning,
    plugins,
    reminders,
    reporting,
    telling,
)
from dispatch.records.models import (
    Customer,
    DueWork,
    Forecast,
    Job,
    Notice,
    Outfit,
    Person,
    Visit,
    Week,
)
from tests.actions import plans, shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def file(tmp_path):
    """One wash, taken into the book on Sunday, of a customer who takes texts; what goes out is written here."""
    place = plans.outfit()
    plans.wash(place)
    Customer.objects.update(phone="+12075550131", text_consent=True)
    plugins.enable("notify_file", {"file": str(tmp_path / "out.jsonl")})
    return tmp_path / "out.jsonl"


@pytest.fixture
def owner(file):
    return plans.owner()


def post(owner, day: int, clock: str = "13:00", *, sky: str = "allows") -> None:
    """Post a week in which the boat is washed on a day of May from a time on."""
    hour = int(clock[:2])
    stops = [("j1.wash", clock, f"{hour + 1}:45")]
    posted([(day, f"{hour - 1:02}:00", f"{hour + 2}:00", stops)], owner)
    Visit.objects.update(sky_says=sky, spoilt="")
    DueWork.objects.all().delete()


def posted(van_days, owner, **more: object) -> None:
    version = sum(Week.objects.values_list("version", flat=True))
    planning.post(plans.draft(van_days, on_version=version, **more), by=owner)


def stand(day: int, clock: str, *, fresh: bool = True) -> None:
    """Put the clock to a time, by which a fresh forecast has come in unless none has."""
    now = plans.at(day, clock)
    Outfit.objects.update(stands_at=now)
    if fresh:
        Forecast.objects.update(issued_at=now - timedelta(hours=1))


def sent(file) -> list[dict]:
    telling.drain()
    if not file.exists():
        return []
    return [json.loads(line) for line in file.read_text().splitlines()]


def due_at(reason: str) -> datetime:
    return Notice.objects.get(reason=reason, state="waiting").due_at


def test_three_messages_wait_for_their_hours(file, owner):
    post(owner, 28)
    assert due_at("ahead") == plans.at(26, "16:00")
    assert due_at("arrival") == plans.at(27, "17:00")
    assert due_at("morning") == plans.at(28, "08:00")
    assert sent(file) == []


def test_two_working_days_before_a_monday_is_a_thursday(file, owner):
    """Working days are Monday to Friday: Thursday and Friday lie between."""
    post(owner, 28)
    assert (
        str(reminders._working_days_before(datetime(2027, 5, 31, tzinfo=UTC).date(), 2))
        == "2027-05-27"
    )
    assert (
        str(reminders._working_days_before(datetime(2027, 5, 30, tzinfo=UTC).date(), 2))
        == "2027-05-27"
    )


def test_each_is_told_as_the_sky_is_when_it_goes_out(file, owner):
    post(owner, 28)
    Visit.objects.update(sky_says="forbids", spoilt="rain 0.18 in, chance 90 %")
    stand(26, "16:00")
    (ahead,) = sent(file)
    assert "we plan to be with you at Marrow Road Fri 28 May" in ahead["body"]
    assert "may not allow it: rain 0.18 in, chance 90 %." in ahead["body"]
    Visit.objects.update(sky_says="allows", spoilt="")
    stand(27, "17:00")
    eve = sent(file)[1]
    assert "between 12:45 and 13:45" in eve["body"]
    assert "may not allow" not in eve["body"]
    stand(28, "08:00")
    morning = sent(file)[2]
    assert "today, Fri 28 May between 12:45 and 13:45" in morning["body"]


def test_what_is_not_known_is_not_told_as_fine(file, owner):
    post(owner, 28, sky="unknown")
    stand(26, "16:00")
    (ahead,) = sent(file)
    assert "may not allow it: no forecast tells of it yet." in ahead["body"]
    assert "the weather allows it" not in ahead["body"]


def test_nothing_is_told_by_a_forecast_that_is_too_old(file, owner):
    post(owner, 28)
    stand(26, "16:00", fresh=False)
    (ahead,) = sent(file)
    assert "may not allow it: no forecast tells of it yet." in ahead["body"]
    assert "forecast stands" not in ahead["body"]


def test_a_visit_that_stands_no_more_is_not_told_of(file, owner):
    post(owner, 28)
    Visit.objects.all().delete()
    stand(28, "08:00")
    assert sent(file) == []
    said = set(Notice.objects.filter(state="dropped").values_list("said", flat=True))
    assert "The visit it tells of does not stand any more." in said


def test_the_evening_waits_for_a_new_forecast_but_not_for_ever(file, owner):
    post(owner, 28)
    Notice.objects.exclude(reason="arrival").delete()
    stage = Visit.objects.get().stage_id
    due.put("judge-stage", str(stage), due_at=datetime(2099, 1, 1, tzinfo=UTC))
    stand(27, "17:05")
    assert sent(file) == []
    notice = Notice.objects.get()
    assert notice.state == "waiting"
    assert "Waits for the new forecast" in notice.said
    stand(27, "19:05")
    assert len(sent(file)) == 1


def test_posted_late_only_what_is_still_of_use_is_put_down(file, owner):
    """At 19:00 on Sunday, for Monday at 08:30: two days before is past, and that morning it is too late."""
    post(owner, 24, "08:30")
    assert [n.reason for n in Notice.objects.all()] == ["arrival"]


def told_the_evening_before(file, owner) -> None:
    post(owner, 28)
    Notice.objects.exclude(reason="arrival").delete()
    stand(27, "17:00")
    assert len(sent(file)) == 1


def test_a_visit_that_moves_by_half_an_hour_or_less_is_not_told_again(file, owner):
    told_the_evening_before(file, owner)
    post(owner, 28, "13:30")
    assert not Notice.objects.filter(reason__in=("arrival", "moved"), state="waiting")


def test_a_visit_that_moves_by_more_is_told_at_once_with_the_new_hour(file, owner):
    told_the_evening_before(file, owner)
    post(owner, 28, "15:00")
    first, moved = sent(file)
    assert moved["reason"] == "moved"
    assert "Fri 28 May between 14:45 and 15:45" in moved["body"]
    assert moved["appointment"]["uid"] == first["appointment"]["uid"]
    assert moved["appointment"]["sequence"] == 1
    assert moved["appointment"]["cancelled"] is False


def test_one_that_moves_back_before_anybody_was_told_is_not_told(file, owner):
    told_the_evening_before(file, owner)
    stand(27, "21:00")
    post(owner, 28, "15:00")
    assert sent(file)[1:] == []
    post(owner, 28, "13:00")
    stand(28, "08:00")
    assert [line["reason"] for line in sent(file)] == ["arrival", "morning"]


def test_a_visit_that_goes_to_another_day_is_taken_out_of_the_calendar(file, owner):
    told_the_evening_before(file, owner)
    post(owner, 29, "11:00")
    first, moved = sent(file)
    assert (
        "We will now be with you Sat 29 May between 10:45 and 11:45." in moved["body"]
    )
    assert moved["appointment"]["uid"] == first["appointment"]["uid"]
    assert moved["appointment"]["cancelled"] is True
    assert moved["appointment"]["span"] == first["appointment"]["span"]
    assert due_at("arrival") == plans.at(28, "17:00")


def test_a_visit_the_sky_turned_against_moves_with_that_reason(file, owner):
    told_the_evening_before(file, owner)
    history.write(
        "sky-turned",
        "job j1",
        "The sky forbids the wash on Second Wind.",
        actor="sky",
        why="Rain 0.18 in, chance 90 %: needs a chance below 40 %.",
    )
    post(owner, 29, "11:00")
    moved = sent(file)[1]
    assert "Reason: the weather, rain 0.18 in, chance 90 %" in moved["body"]


@pytest.mark.parametrize("bumped", [0, 1])
def test_who_gives_way_a_second_time_is_called_by_hand_and_not_written_to(
    file, owner, bumped
):
    Job.objects.update(bumped=bumped)
    told_the_evening_before(file, owner)
    posted([], owner, unplaced=["j1.wash"])
    posted([], owner, unplaced=["j1.wash"])
    assert len(sent(file)) == 2 - bumped
    cards = [card.why for card in calling.cards()]
    if not bumped:
        assert cards == []
        return
    ((why,),) = cards
    assert "that was told is off, and she gave way before once this season" in why
    assert "no message was written" in why


def test_a_visit_that_falls_out_of_the_week_is_told_without_a_new_time(file, owner):
    told_the_evening_before(file, owner)
    posted([], owner, unplaced=["j1.wash"])
    moved = sent(file)[1]
    assert "The new time is not settled yet" in moved["body"]
    assert moved["appointment"]["cancelled"] is True
    posted([], owner, unplaced=["j1.wash"])
    assert len(sent(file)) == 2


def test_a_visit_that_is_under_way_when_the_week_is_posted_again_is_not_called_off(
    file, owner
):
    told_the_evening_before(file, owner)
    stand(28, "13:20")
    visit = Visit.objects.get()
    rook = Person.objects.get(key="rook")
    reporting.start(visit.stage, rook, plans.at(28, "13:05"))
    before = len(sent(file))
    posted([], owner)
    assert len(sent(file)) == before
    assert not Notice.objects.filter(reason="moved").exists()


def test_what_waits_of_another_week_is_left_alone(file, owner):
    post(owner, 28)
    other = Notice.objects.get(reason="arrival")
    Notice.objects.filter(pk=other.pk).update(fact="j9 visit 2027-06-02")
    posted([], owner, unplaced=["j1.wash"])
    waiting = Notice.objects.filter(state="waiting")
    assert [notice.fact for notice in waiting] == ["j9 visit 2027-06-02"]


def test_a_year_after_the_boat_is_finished_she_is_asked_after(file, owner):
    job = Customer.objects.get().boats.get().jobs.get()
    book.mark_done(job.stages.get(), started_at=None, ended_at=shop.NOW)
    notice = Notice.objects.get(reason="yearly")
    assert notice.due_at - shop.NOW >= timedelta(days=365)
    assert notice.due_at - shop.NOW < timedelta(days=366)
    assert "we finished the boat on Sun 23 May 2027" in notice.body


def test_whoever_takes_no_texts_is_reminded_by_mail(file, owner):
    Customer.objects.update(
        text_consent=False, email="ames@pell.test", email_consent=True
    )
    post(owner, 28)
    assert {n.channel for n in Notice.objects.all()} == {"email"}
    assert Notice.objects.filter(reason="ahead").count() == 1


def test_whoever_takes_both_is_reminded_by_text_alone_ahead(file, owner):
    Customer.objects.update(email="ames@pell.test", email_consent=True)
    post(owner, 28)
    assert [n.channel for n in Notice.objects.filter(reason="ahead")] == ["text"]
    assert Notice.objects.filter(reason="arrival").count() == 2
