"""The board asks the database the same number of statements for 200 boats as for 14."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from dispatch.actions import book, weather
from dispatch.records.models import (
    Boat,
    Customer,
    JobKind,
    Judged,
    Place,
    Stage,
    Veto,
    WeekPlan,
)
from tests.actions import plans
from tests.trade.lanternglass import ZONE
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(180)]
JUDGED = 14
LONG = "The Extraordinarily Long and Winding Name of a Boat, Second of That Name"


@pytest.fixture
def place():
    return plans.outfit()


def fleet(first: int, last: int) -> None:
    """Take boats with long names into the book, to be washed; the first few are judged, the others like those."""
    place, kind = Place.objects.get(key="s5"), JobKind.objects.get(key="wash")
    for number in range(first, last):
        customer = Customer.objects.create(name=f"Owner {number}", time_zone=ZONE)
        boat = Boat.objects.create(
            key=f"b{number}",
            name=f"{LONG} {number}",
            customer=customer,
            length_m=6 + number % 7,
            place=place,
            heading_deg=number * 9 % 360,
        )
        job = book.take_job(
            key=f"w{number}", boat=boat, kind=kind, unfinished_cents=900
        )
        for stage in job.stages.all():
            if number < JUDGED:
                weather.judge(stage)
            else:
                as_judged(stage, Stage.objects.get(job__key=f"w{number % JUDGED}"))


def as_judged(stage: Stage, like: Stage) -> None:
    """Give a stage the vetoes that judging left of another: what they say does not matter here."""
    for kind in (Judged, Veto):
        rows = list(kind.objects.filter(stage=like))
        for row in rows:
            row.pk, row.stage = None, stage
        kind.objects.bulk_create(rows)


def week() -> None:
    """Make a draft with one visit for each boat, one after another."""
    WeekPlan.objects.all().delete()
    plan = plans.draft([])
    rows = {}
    for number, stage in enumerate(sorted(s["id"] for s in plan.problem["stages"])):
        day, slot = number % 5, number // 5
        start = day * 1440 + 480 + slot * 60
        stop = {"do": "visit", "stage": stage, "start": start, "end": start + 55}
        rows.setdefault(day, []).append(stop)
    plan.plan |= {
        "chosen": {},
        "van_days": [
            {
                "van": "knot",
                "day": day,
                "team": ["rook", "teague"],
                "break": None,
                "depart": stops[0]["start"],
                "back": stops[-1]["end"],
                "stops": stops,
            }
            for day, stops in rows.items()
        ],
    }
    plan.save()


def asked(client) -> tuple[int, str]:
    with CaptureQueriesContext(connection) as statements:
        answer = client.get("/week/")
    assert answer.status_code == 200
    return len(statements), answer.text


def test_statements_do_not_grow_with_boats(client, place):
    client.force_login(people.owner())
    fleet(0, 14)
    weather.take_in(place)
    week()
    few, told = asked(client)
    assert told.count(LONG) >= 14
    fleet(14, 200)
    week()
    many, told = asked(client)
    assert f"{LONG} 199" in told
    assert many == few
    assert many < 60
