"""The owner holds everything still while port is wet and starboard bare: film sets on and is watched, all else waits.

The moments of film and rain were worked out by a script that shares no code with the house, film to 10 minutes.
"""

import json
from datetime import timedelta
from pathlib import Path

import pytest

from dispatch.actions import (
    planning,
    plugins,
    reporting,
    sweeping,
    telling,
    weather,
)
from dispatch.records.models import (
    Account,
    Customer,
    HistoryEntry,
    Hold,
    Notice,
    Outfit,
    Person,
    Visit,
)
from tests.actions import plans
from tests.journeys.asked import done_by

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
WEEK = "/week/2027-05-24/"
PORT, STARBOARD = "j1.port-as-she-lies", "j1.starboard-as-she-lies"
WEDNESDAY = [(26, "07:00", "16:00", [(PORT, "07:30", "09:00"), (STARBOARD, "11:45", "13:15")])]  # fmt: skip


@pytest.fixture
def out(tmp_path) -> Path:
    """Where messages go, a line each."""
    return tmp_path / "sent.jsonl"


@pytest.fixture
def job(out):
    """The week posted by Sunday's sky, port laid on Wednesday by 09:00 and told; the customer and the owner take texts."""
    job = plans.coat(plans.outfit())
    plugins.enable("notify_file", {"file": str(out)})
    Customer.objects.update(phone="+12075550131", text_consent=True)
    orla = plans.person("orla", "Orla Tarrow", "OT")
    Person.objects.filter(pk=orla.pk).update(phone="+12075550100", text_consent=True)
    owner = Account.objects.create_user("orla", role="owner", person=orla)
    Outfit.objects.update(stands_at=plans.at(25, "17:00"))
    done_by(job, plans.at(25, "16:30"), "prep", "mask")
    planning.post(plans.draft(WEDNESDAY), by=owner, why="The crew agreed to it.")
    Outfit.objects.update(stands_at=plans.at(26, "09:05"))
    rook = Person.objects.get(key="rook")
    reporting.finish(
        job.stages.get(key="port-as-she-lies"), rook, plans.at(26, "09:00")
    )
    Notice.objects.all().delete()
    return job


@pytest.fixture
def owner(client, job):
    account = Account.objects.get(role="owner")
    client.force_login(account)
    return account


def an_hour_later(job, clock: str) -> None:
    """The clock goes on, and the sky as it came is taken in; every task that is due is done."""
    Outfit.objects.update(stands_at=plans.at(26, clock))
    file = {"file": "weather_as_it_happened.csv"}
    issued = {"issued_at": f"2027-05-26T{clock}:00-04:00"}
    plugins.enable("weather_file", plans.FORECAST | file | issued)
    weather.take_in(job.boat.place)
    sweeping.sweep()


def rain_safe() -> Hold:
    return Hold.objects.get(stage__key="port-as-she-lies", kind="rain-safe")


def where() -> list[tuple[object, ...]]:
    return list(
        Visit.objects.order_by("pk").values_list("stage__key", "start", "van_day")
    )


def text(client, address: str) -> str:
    return client.get(address).text.replace("\N{NO-BREAK SPACE}", " ")


def test_two_hours_on_nothing_has_left_or_moved_and_the_film_is_watched(
    client, owner, job, out
):
    before, stood = rain_safe().end, where()
    why = "Port is wet and starboard bare; I want to look at the sky."
    client.post(f"{WEEK}still/", {"why": why})
    an_hour_later(job, "11:00")
    # The cure clock ran: rain-safe 15:36 by Sunday's sky, 15:42 as the morning came.
    assert abs(before - plans.at(26, "15:36")) < timedelta(minutes=10)
    assert abs(rain_safe().end - plans.at(26, "15:42")) < timedelta(minutes=10)
    assert rain_safe().end != before
    # So did the warning of rain.
    page = text(client, WEEK)
    assert "film is wet" in page
    assert "comes Wed 14:00" in page
    assert "Cover her by Wed 13:45" in page
    assert why in page
    # Nothing left, though there is something to tell.
    waiting = set(
        Notice.objects.filter(state="waiting").values_list("reason", flat=True)
    )
    assert "film-threat" in waiting
    assert telling.drain() == 0
    assert not out.exists()
    # Nothing moved by any of its doors.
    for address, sent in doors(job):
        answer = client.post(address, sent, follow=True)
        assert "held still since Wed 26 May 09:05" in answer.text, address
    assert where() == stood
    assert not HistoryEntry.objects.filter(
        verb__in=("by-hand", "post-week", "move-job"), at__gt=plans.at(26, "10:00")
    ).exists()
    client.post(f"{WEEK}go-on/")
    assert telling.drain() >= 1
    told = [json.loads(line) for line in out.read_text().splitlines()]
    assert any("rain" in one["body"].lower() for one in told)


def doors(job):
    """Each way of moving or leaving out what stands, as its page sends it."""
    moves = f"/week/why/{STARBOARD}/moves"
    plan = str(job.stages.get(key="starboard-as-she-lies").visit.van_day.plan_id)
    yield (
        f"{moves}/put/",
        {"plan": plan, "van": "knot", "day": "2027-05-26", "at": "13:00"},
    )
    yield f"{moves}/leave-out/", {"plan": plan, "why": "rain"}
    yield "/jobs/j1/move/", {"to": "put-off", "why": "rain", "seen": "in-hand"}
