"""The main job through the real broker and a real worker: book, sky, draft, posted week, messages."""

import json
import threading
from datetime import date, time

import pytest

from dispatch.actions import book, clock, demo_clock, due, planning, plugins
from dispatch.records.models import (
    Account,
    DueWork,
    Duty,
    JobKind,
    Judged,
    Notice,
    Person,
    Skill,
    Van,
    Visit,
    WeekPlan,
)
from dispatch.tasks import notices
from dispatch.tasks.sweep import sweep
from tests.actions import shop
from tests.trade.lanternglass import WEATHER

pytestmark = [pytest.mark.services, pytest.mark.timeout(180)]
MONDAY = date(2027, 5, 24)


def wait_for(ready, knock=sweep.delay, seconds=120):
    """Knock now and then until something is so."""
    tick = threading.Event()
    for _ in range(seconds):
        if ready():
            return
        knock()
        tick.wait(1)
    pytest.fail("The worker did not do it in time.")


def book_a_wash(tmp_path):
    shop.outfit()
    shop.catalogue()
    place = shop.driveway()
    person = Person.objects.create(
        key="rook", name="Rook Ferrante", initials="RF", drives=True
    )
    for skill in ("prep", "lead"):
        Skill.objects.create(person=person, name=skill)
    for weekday in range(5):
        Duty.objects.create(person=person, weekday=weekday, start=time(7), end=time(17))
    Van.objects.create(
        key="knot",
        name="Knot",
        base=place,
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
    plugins.enable("notify_file", {"file": str(tmp_path / "sent.jsonl")})
    boat = shop.boat(place)
    boat.customer.phone, boat.customer.text_consent = "+12075550131", True
    boat.customer.save()
    book.take_job(
        key="j1",
        boat=boat,
        kind=JobKind.objects.get(key="wash"),
        unfinished_cents=50000,
    )
    due.put("take-in-forecast", place.key)


def test_a_week_goes_from_the_book_to_a_message_once(start, tmp_path):
    book_a_wash(tmp_path)
    owner = Account.objects.create(username="orla", role="owner")
    with start():
        wait_for(Judged.objects.exists)
        wait_for(lambda: not DueWork.objects.filter(done_at__isnull=True).exists())
        plan = planning.ask(MONDAY, by=owner, seconds=1)
        wait_for(
            lambda: WeekPlan.objects.filter(
                pk=plan.pk, state__in=("draft", "failed")
            ).exists()
        )
        plan.refresh_from_db()
        assert (plan.state, plan.fault) == ("draft", "")
        assert plan.plan["unplaced"] == []
        planning.post(plan, by=owner)
        visit = Visit.objects.get()
        demo_clock.move_to(
            max(clock.now(), Notice.objects.get(reason="arrival").due_at), by=owner
        )
        wait_for(
            lambda: Notice.objects.filter(state="sent").exists(),
            knock=notices.drain.delay,
        )
        notices.drain.delay()
    lines = [
        json.loads(line) for line in (tmp_path / "sent.jsonl").read_text().splitlines()
    ]
    assert [line["to"] for line in lines] == ["+12075550131"]
    assert visit.van_day.team.get().key == "rook"
