"""History, hours and pay, planned against real: who opens them, what they reckon, worked by hand."""

import csv
import io
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from dispatch.actions import actuals, book, pay
from dispatch.records.models import (
    HistoryEntry,
    JobKind,
    Outfit,
    Person,
    Stage,
    Van,
    VanDay,
    Visit,
    Week,
    WeekPlan,
)
from tests.actions import plans, shop
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
MONDAY = plans.at(24, "00:00").date()


@pytest.fixture
def job(db):
    shop.outfit()
    shop.catalogue()
    return book.take_job(
        key="j1",
        boat=shop.boat(shop.driveway(is_base=True)),
        kind=JobKind.objects.get(key="spray-coat"),
        sheet=shop.one_part(),
    )


@pytest.fixture
def days(job):
    """Five days of 07:00 to 17:00 with a break of half an hour, of two people; the week is over."""
    Outfit.objects.update(stands_at=plans.at(29, "12:00"))
    ann = Person.objects.create(
        key="ann", name="Ann", initials="A", cents_per_hour=4000
    )
    bob = Person.objects.create(
        key="bob", name="=Bob", initials="B", cents_per_hour=3000
    )
    week = Week.objects.create(starts_on=MONDAY)
    plan = WeekPlan.objects.create(
        week=week, state="standing", asked_at=plans.at(23, "19:00"), problem={}, plan={}
    )
    van = Van.objects.create(
        key="knot",
        name="Knot",
        base=job.boat.place,
        seats=3,
        duty_start="06:00",
        duty_end="20:00",
    )
    made = []
    for day in range(24, 29):
        row = VanDay.objects.create(
            plan=plan, van=van, on=plans.at(day, "07:00").date(),
            depart=plans.at(day, "07:00"), back=plans.at(day, "17:00"),
            break_start=plans.at(day, "12:00"), break_end=plans.at(day, "12:30"),
        )  # fmt: skip
        row.team.set([ann, bob])
        made.append(row)
    return made


def report(day: VanDay, stage: Stage, start: str, end: str) -> None:
    Visit.objects.create(
        stage=stage, van_day=day, start=day.depart, end=day.depart + timedelta(hours=2)
    )
    Stage.objects.filter(pk=stage.pk).update(
        state="done",
        started_at=plans.at(day.on.day, start),
        ended_at=plans.at(day.on.day, end),
    )


@pytest.mark.parametrize(
    "page",
    ["/history/", "/pay/", "/pay/2027-05-24/", "/pay/2027-05-24/out/", "/minutes/"],
)
def test_strangers_and_crew_are_refused_and_the_owner_is_not(client, job, page):
    assert client.get(page).status_code == 302
    client.force_login(people.crew())
    assert client.get(page).status_code == 403
    client.force_login(people.owner())
    assert client.get(page).status_code == 200


def test_a_week_over_its_hours_counts_once_and_a_half(days):
    ann, bob = sorted(pay.of(MONDAY), key=lambda row: -row.cents)
    # 5 x 9.5 h = 47.5 h: 40 at $40 and 7.5 at $60 (time and a half over 40 h: US Fair Labor Standards Act, 29 USC 207).
    assert (ann.regular_minutes, ann.over_minutes) == (2400, 450)
    assert ann.cents == 40 * 4000 + 7.5 * 6000
    assert bob.cents == 40 * 3000 + 7.5 * 4500
    assert len(ann.not_reported) == 5


def test_sums_that_stand_in_a_column_are_told_to_the_cent(client, days):
    client.force_login(people.owner())
    page = client.get("/pay/2027-05-24/").text
    assert "$2,050.00" in page
    assert "$1,537.50" in page


def test_a_visit_reported_late_stretches_the_day_and_an_early_end_does_not_shorten_it(
    days, job
):
    first, second = job.stages.all()[:2]
    report(days[0], first, "08:00", "18:15")
    report(days[1], second, "08:00", "12:00")
    ann = pay.of(MONDAY)[0]
    assert ann.days[:3] == (570 + 75, 570, 570)
    assert MONDAY not in ann.not_reported


def test_days_ahead_are_called_expected(days):
    Outfit.objects.update(stands_at=plans.at(26, "12:00"))
    row = pay.of(MONDAY)[0]
    assert [day.day for day in sorted(row.expected)] == [26, 27, 28]
    assert [day.day for day in sorted(row.not_reported)] == [24, 25]


def test_the_hours_as_csv_say_the_same_and_run_no_formula(client, days):
    client.force_login(people.owner())
    text = client.get("/pay/2027-05-24/out/").content.decode()
    rows = list(csv.DictReader(io.StringIO(text)))
    assert rows[0]["Name"] == "'=Bob"
    assert rows[1]["Hours"] == "47.50"
    assert rows[1]["Over the week"] == "7.50"
    assert rows[1]["Pay"] == "2050.00"
    assert "2,050" in client.get("/pay/2027-05-27/").text


def test_planned_against_real_by_stage_and_grade(client, days, job):
    stage = job.stages.get(key="mask")  # it waits for nothing
    report(days[0], stage, "08:00", "10:00")
    (point,) = actuals.points()
    # Two people for two hours are 240 labour-minutes, where nothing is waited for.
    assert (point.real, point.grade) == (240, 2)
    (row,) = actuals.rows([point])
    assert row.ratio == pytest.approx(min(2, max(0.6, 240 / point.planned)))
    client.force_login(people.owner())
    told = client.get("/minutes/").text
    assert f"planned {point.planned:.0f}, real 240 min" in told
    assert 'class="plot"' in told


def test_a_stage_whose_team_is_not_known_is_left_out(job):
    Stage.objects.filter(job=job).update(
        state="done", started_at=plans.at(22, "08:00"), ended_at=plans.at(22, "10:00")
    )
    assert actuals.points() == ()


@pytest.fixture
def told(client, job):
    at = plans.at(20, "10:00")
    for subject, sentence, why in (
        ("boat second-wind", "Berth set to row 4.", ""),
        ("job j1", "Second Wind: note changed.", "Engine first"),
        ("place s5", "Marrow Road: gate changed.", ""),
    ):
        HistoryEntry.objects.create(
            at=at, actor="Orla", verb="set", subject=subject, sentence=sentence, why=why
        )
    client.force_login(people.owner())
    return client


@pytest.mark.parametrize(
    ("asked", "count"),
    [
        ("q=engine", 1),
        ("q=orla+gate", 1),
        ("boat=second-wind&to=2027-05-20", 2),
        ("from=2027-05-21&q=row", 0),
        ("from=2027-05-20&to=2027-05-20", 3),
        ("from=nonsense&q=engine", 1),
    ],
)
def test_the_history_is_searched_by_word_boat_and_day(told, asked, count):
    assert told.get(f"/history/?{asked}").context["page"].paginator.count == count


def test_statements_do_not_grow_with_days_out(days, django_assert_num_queries):
    with CaptureQueriesContext(connection) as whole:
        assert len(pay.of(MONDAY)) == 2
    VanDay.objects.exclude(pk=days[0].pk).delete()
    with django_assert_num_queries(len(whole)):
        assert len(pay.of(MONDAY)) == 2
