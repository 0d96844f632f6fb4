"""Beyond the week: hours promised against hours there are, what comes again, fixed minutes, work kept for rain."""

from datetime import date, time

import pytest

from dispatch.actions import (
    book,
    recurring,
    reserve,
    room_ahead,
    slots_ahead,
    snapshot,
    solving,
    weather,
)
from dispatch.records.models import (
    DayOff,
    Duty,
    HistoryEntry,
    Job,
    JobKind,
    Outfit,
    Person,
    Recurring,
    Stage,
    Week,
)
from tests.actions import plans, shop
from tests.web import people
from tests.web.owner.test_book import fields

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
WASH = {
    "boat": "second-wind",
    "kind": "wash",
    "every_days": "14",
    "slack_days": "3",
    "next_on": "2027-05-29",
    "grade": "1",
    "price_cents": "92",
}


@pytest.fixture
def boat(db):
    shop.outfit()
    shop.catalogue()
    return shop.boat(shop.driveway())


@pytest.fixture
def orla(client, boat):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.fixture
def crew(boat):
    person = Person.objects.create(key="a", name="A", initials="A")
    for day in range(5):
        Duty.objects.create(person=person, weekday=day, start=time(7), end=time(17))
    return person


def take(boat, kind: str, key: str = "j1", **terms: object) -> Job:
    return book.take_job(
        key=key, boat=boat, kind=JobKind.objects.get(key=kind), **terms
    )


def on(day: str) -> None:
    Outfit.objects.update(stands_at=f"{day}T12:00:00-04:00")


@pytest.mark.parametrize("page", ["/ahead/", "/ahead/again/new/"])
def test_strangers_and_crew_are_refused_and_the_owner_is_not(client, boat, page):
    assert client.get(page).status_code == 302
    client.force_login(people.crew())
    assert client.get(page).status_code == 403
    client.force_login(people.owner())
    assert client.get(page).status_code == 200


def test_a_week_counts_the_hours_people_are_there_and_what_is_promised_in_it(
    boat, crew
):
    DayOff.objects.create(person=crew, on=date(2027, 5, 31))
    DayOff.objects.create(person=crew, on=date(2027, 6, 1), start=time(8), end=time(12))
    job = take(boat, "wash", promise="range", promised_by=plans.at(31, "17:00"))
    following, after = room_ahead.weeks()[:2]
    # On Sunday evening nothing is left of the week that is now.
    assert following.starts_on == date(2027, 5, 24)
    # Five days of ten hours; the week after next has a day off and one of four hours.
    assert following.there_minutes == 5 * 600
    assert after.there_minutes == 3 * 600 + 240
    labour = sum(
        step["labour_minutes"] for stage in job.stages.all() for step in stage.steps
    )
    assert (following.promised_minutes, after.promised_minutes) == (0, labour)
    assert after.share == pytest.approx(labour / 2040)


def test_spray_slots_follow_the_season_and_unknown_headings_are_told(
    client, orla, boat
):
    """Heading 090 on 15 September at 44.1 N the starboard side is in shade from 18:15 only (a reference script's sun)."""
    shut = boat.place.access_hours
    shut.update(end=time(19))
    type(boat).objects.update(heading_deg=90)
    take(boat, "spray-coat", sheet=shop.one_part())
    june = slots_ahead.of([date(2027, 6, 21)])[0]
    on("2027-09-12")
    autumn = slots_ahead.of([date(2027, 9, 13)])[0]
    # Six days a week: port's shade leaves time at both; starboard's in June alone.
    assert (june.sides, june.days) == (2, 12)
    assert autumn.days == 6
    type(boat).objects.update(heading_deg=None)
    assert "Nobody has read how Second Wind lies" in client.get("/ahead/").text


def test_a_week_with_nobody_there_says_so_and_a_burst_one_too(client, orla, boat):
    assert "nobody there" in client.get("/ahead/").text
    person = Person.objects.create(key="b", name="B", initials="B")
    Duty.objects.create(person=person, weekday=0, start=time(8), end=time(9))
    take(boat, "wash", promise="range", promised_by=plans.at(28, "17:00"))
    assert "more than there are" in client.get("/ahead/").text


def test_a_wash_comes_every_fourteen_days_give_or_take_three(client, orla, boat):
    sent = fields(client.get("/ahead/again/new/")) | WASH
    client.post("/ahead/again/new/", sent)
    job = Job.objects.get()
    # 29 May, three days either way; within ten days of its first good day it is taken at once.
    assert job.promised_from == plans.at(26, "07:30")
    assert job.promised_by.astimezone(shop.NOW.tzinfo).date() == date(2027, 6, 1)
    assert (job.state, job.price_cents, job.bumped) == ("agreed", 9200, 0)
    assert Recurring.objects.get().next_on == date(2027, 6, 12)
    on("2027-06-05")
    assert recurring.check() == 0  # the last one is still open
    Job.objects.update(state="handed-back")
    assert recurring.check() == 1
    assert recurring.check() == 0
    assert Job.objects.count() == 2


@pytest.mark.parametrize(
    ("last", "bumped"),
    [
        ({"state": "handed-back"}, 0),
        ({"state": "called-off"}, 1),
        ({"state": "handed-back", "bumped": 1}, 1),
    ],
)
def test_after_one_that_fell_out_the_next_gives_way_by_hand_alone(
    client, orla, boat, last, bumped
):
    client.post("/ahead/again/new/", fields(client.get("/ahead/again/new/")) | WASH)
    Job.objects.update(**last)
    on("2027-06-05")
    recurring.check()
    assert Job.objects.get(key="j2").bumped == bumped


def test_the_planner_leaves_a_wash_out_once_and_never_twice_running(db):
    """Room for one of two washes: the cheaper gives way first, and once it gave way the dearer does."""
    place = plans.outfit()
    Duty.objects.exclude(weekday=0).delete()
    Duty.objects.update(start=time(8), end=time(10, 30))
    twice = shop.boat(place, key="kittiwake", name="Kittiwake")
    entered = {**WASH, "boat": "kittiwake", "next_on": date(2027, 5, 25)}
    numbers = {n: int(entered[n]) for n in ("every_days", "slack_days", "grade")}
    recurring.add(entered | numbers | {"price_cents": 9200}, by=people.owner())
    take(shop.boat(place), "wash", key="dear", unfinished_cents=100000)
    weather.take_in(place)
    assert planned(place) == {"dear"}
    Job.objects.filter(boat=twice).update(state="called-off")
    Recurring.objects.update(next_on=date(2027, 5, 25))
    assert recurring.check() == 1
    again = Job.objects.get(boat=twice, state="agreed")
    assert planned(place) == {again.key}
    # One whose days are over is no better off for never having been called off.
    Job.objects.filter(pk=again.pk).update(bumped=0, promised_by=plans.at(22, "17:00"))
    assert planned(place) == {again.key}


def planned(place) -> set[str]:
    """The jobs that the planner puts in the week, by the tables as they stand."""
    for stage in Stage.objects.filter(job__state="agreed"):
        weather.judge(stage)
    week, _ = Week.objects.get_or_create(starts_on=plans.MONDAY)
    plan = solving.solve(snapshot.of(week), seconds=1, workers=1, seed=1)
    return {
        stop["stage"].split(".")[0]
        for day in plan["van_days"]
        for stop in day["stops"]
        if stop["do"] == "visit"
    }


def test_a_clock_that_stood_still_takes_one_and_not_all_that_were_missed(
    client, orla, boat
):
    client.post("/ahead/again/new/", fields(client.get("/ahead/again/new/")) | WASH)
    Job.objects.update(state="handed-back")
    on("2027-09-01")
    assert recurring.check() == 1
    assert Recurring.objects.get().next_on > date(2027, 9, 1)
    job = Job.objects.get(key="j2")
    assert job.promised_by.date() >= date(2027, 9, 1)


def test_what_cannot_be_taken_is_told_once(client, orla, boat):
    client.post("/ahead/again/new/", fields(client.get("/ahead/again/new/")) | WASH)
    Job.objects.update(state="handed-back")
    boat.__class__.objects.update(shape="raft")
    on("2027-06-05")
    assert recurring.check() == 0
    assert recurring.check() == 0
    assert HistoryEntry.objects.filter(verb="miss-recurring").count() == 1


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"slack_days": "7"}, "would reach into the next"),
        ({"kind": "spray-coat"}, "There is no spray-coat to choose"),
        ({"every_days": "1"}, "Give a number from 2 to 400"),
        ({"next_on": "29.5."}, "Give a day as"),
    ],
)
def test_what_will_not_do_is_said(client, orla, boat, wrong, said):
    sent = fields(client.get("/ahead/again/new/")) | WASH | wrong
    answer = client.post("/ahead/again/new/", sent)
    assert said in answer.text
    assert not Recurring.objects.exists()


def test_it_is_stopped_and_comes_no_more(client, orla, boat):
    client.post("/ahead/again/new/", fields(client.get("/ahead/again/new/")) | WASH)
    again = client.post(
        "/ahead/again/new/", fields(client.get("/ahead/again/new/")) | WASH
    )
    assert "comes again for Second Wind already" in again.text
    client.post(f"/ahead/again/{Recurring.objects.get().pk}/stop/")
    Job.objects.update(state="handed-back")
    on("2027-06-05")
    assert recurring.check() == 0


def test_a_lift_slot_holds_its_visit_to_the_minute_and_stands_on_the_page(
    client, orla, boat
):
    """A fixed lift minute (Thursday 10:00) is held by the visit in the slings; other kinds have none to hold it."""
    take(boat, "bottom-wash", fixed_start=plans.at(27, "10:00"))
    slings = Stage.objects.get(key="slings")
    assert slings.fixed_start == plans.at(27, "10:00")
    assert "Thursday 27 May, 10:00" in client.get("/ahead/").text
    take(boat, "wash", key="j2")
    sent = fields(client.get("/jobs/j2/terms/")) | {"fixed_start": "2027-05-27T10:00"}
    assert (
        "no visit that is held to a minute" in client.post("/jobs/j2/terms/", sent).text
    )


def test_what_rain_does_not_stop_is_kept_for_it_until_it_is_posted(client, orla, boat):
    take(boat, "interior")
    kept = reserve.of()
    assert {one.stage.family for one in kept} <= {"inside", "any"}
    assert kept
    assert [one.waits for one in kept] == sorted(one.waits for one in kept)
    take(boat, "wash", key="j2")
    assert {one.stage.job.key for one in reserve.of()} == {"j1"}
    Job.objects.filter(key="j1").update(state="put-off")
    assert reserve.of() == ()
