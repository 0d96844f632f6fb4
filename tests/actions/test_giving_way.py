"""Full days, who gives way and what may be promised, through the calls the pages use. Shares and days: assumptions."""

import pytest

from dispatch.actions import (
    board_load,
    board_reading,
    book,
    giving_way,
    holds,
    promise,
    show_board,
)
from dispatch.records.models import Job, JobKind, Person, Setting, Stage
from tests.actions import plans, posted, shop
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
FRIDAY = (
    28,
    "07:30",
    "16:30",
    [
        ("j1.mask", "07:30", "08:25"),
        ("j1.port-as-she-lies", "09:30", "10:55"),
        ("j1.starboard-as-she-lies", "15:50", "16:15"),
    ],
)


@pytest.fixture
def coat():
    return plans.coat(plans.outfit(), price_cents=136000)


def washed(place, **terms):
    boat = shop.boat(place, key="kittiwake", name="Kittiwake")
    kind = JobKind.objects.get(key="wash")
    return book.take_job(key="j2", boat=boat, kind=kind, price_cents=9200, **terms)


def reading(*van_days):
    return board_reading.read(plans.draft(van_days))


def test_a_days_load_counts_labour_against_the_hours_people_are_there(coat):
    found = board_load.loads(reading(FRIDAY))
    (load,) = found.values()
    # Two people for 55, 85 and 25 min; a boat that is here for the first time: 1.25 of that.
    assert load.planned_minutes == 2 * (55 + 85 + 25)
    assert load.late_minutes == pytest.approx(load.planned_minutes * 1.25)
    assert load.there_minutes == 2 * 600
    assert list(board_load.snags(reading(FRIDAY))) == []


def test_a_day_with_no_room_left_is_a_snag_with_its_numbers(coat):
    full = (24, "07:00", "17:00", [("j1.prep", "07:30", "16:30")])
    (snag,) = [
        one
        for one in show_board.board(plans.draft([full])).snags
        if one.subject == "Monday"
    ]
    assert "18 h of labour planned, 22 h 30 if it runs over" in snag.sentence
    assert "90% and 112%, at most 85% and 105%" in snag.sentence
    assert snag.setting == "board"
    Setting.objects.create(name="board.full_day_pct", value=95)
    Setting.objects.create(name="board.full_late_day_pct", value=120)
    assert list(board_load.snags(reading(full))) == []


def test_the_wash_gives_way_before_the_coat_and_wet_film_last(coat):
    washed(coat.boat.place)
    wash = (26, "07:30", "12:00", [("j2.wash", "08:00", "09:30")])
    first, last = giving_way.order(reading(FRIDAY, wash))
    assert (first[0].key, last[0].key) == ("j2", "j1")
    assert "a kind of job that gives way first" in first[1].reasons
    assert last[1].reasons[-1].endswith("an hour of labour")
    port = coat.stages.get(key="port-as-she-lies")
    Stage.objects.filter(pk=port.pk).update(
        state="done", started_at=plans.at(23, "10:00"), ended_at=plans.at(23, "11:00")
    )
    holds.write(port, plans.at(23, "11:00"), planned=False)
    _, wet = giving_way.order(reading(FRIDAY, wash))
    assert wet[1].reasons[:2] == (
        "carries wet film: cover it, do not leave it",
        "one side is coated and another is not",
    )


def test_the_weeks_page_shows_the_order_and_the_owners_hand(client, coat):
    washed(coat.boat.place, bumped=1)
    wash = (26, "07:30", "12:00", [("j2.wash", "08:00", "09:30")])
    plans.draft([FRIDAY, wash])
    client.force_login(people.owner())
    told = client.get("/week/").text
    assert "If a day is lost: who gives way first" in told
    assert "Only by your own hand" in told


def test_a_range_to_promise_comes_from_the_posted_visits(client, coat):
    assert promise.of(coat).days is None
    rook = Person.objects.get(key="rook")
    day = posted.van_day(rook, day=plans.at(25, "08:00").date())
    posted.visit(day, coat.stages.get(key="prep"), "08:00", 240)
    friday = posted.van_day(rook, day=plans.at(28, "08:00").date())
    posted.visit(friday, coat.stages.get(key="finish"), "08:00", 240)
    first, last = promise.of(coat).days
    assert (first.day, last.day, last.month) == (25, 29, 5)
    client.force_login(people.owner())
    told = client.get("/jobs/j1/").text
    assert (
        "From <strong>Tuesday 25 May</strong> to <strong>Saturday 29 May</strong>"
        in told
    )


def test_a_hard_date_wants_two_days_to_spray_each_side(client, coat):
    found = promise.of(coat)
    assert found.hard_may is (found.spray_days >= 2)
    Job.objects.update(promise="hard", promised_by=plans.at(24, "12:00"))
    soon = promise.of(Job.objects.select_related("boat__place").get())
    assert soon.spray_days < 2
    assert not soon.hard_may
    client.force_login(people.owner())
    assert "so do not give one" in client.get("/jobs/j1/").text


def test_what_nobody_judged_is_no_day_to_spray_on(coat):
    for stage in coat.stages.all():
        stage.judged.all().delete()
    assert (promise.of(coat).spray_days, promise.of(coat).hard_may) == (0, False)


def test_an_empty_week_has_no_order_and_no_load(coat):
    assert giving_way.order(reading()) == ()
    assert board_load.loads(reading()) == {}
