"""Every message of a job, by the clock through the outbox to a text gateway on loopback, and what it says became of it.

When each goes out, and that a hand-back is a letter too, is the outfit's own table.
"""

import json
import time
from datetime import datetime, timedelta

import pytest

from dispatch.actions import planning, plugins, reporting, sweeping, telling
from dispatch.hooks import signing
from dispatch.records.models import (
    Customer,
    DueWork,
    Forecast,
    Notice,
    Outfit,
    Person,
    Stage,
    Visit,
    Week,
)
from tests.actions import plans
from tests.plugins import gateway

pytestmark = pytest.mark.django_db
SECRET = "cedar and pine"  # noqa: S105 - made up for this test


@pytest.fixture
def texts():
    """A gateway that keeps what comes, and the plugin that hands texts to it; letters have no channel."""
    with gateway.serving() as one:
        given = {"url": one.url, "id_at": "/messages/0/id", "hear_secret": SECRET}
        plugins.enable("notify_sms_http", given)
        yield one


@pytest.fixture
def owner():
    return plans.owner()


@pytest.fixture
def port(texts, owner):
    """One coat, agreed on Sunday with a customer who takes texts and letters."""
    place = plans.outfit()
    boat = plans.shop.boat(place)
    consent = {"text_consent": True, "email_consent": True}
    Customer.objects.update(phone="+12075550131", email="ames@pell.test", **consent)
    kind = plans.JobKind.objects.get(key="spray-coat")
    job = plans.book.take_job(
        key="j1",
        boat=type(boat).objects.get(),
        kind=kind,
        sheet=plans.shop.one_part(),
        by=owner,
    )
    plans.weather.take_in(place)
    stage = job.stages.get(key="port-as-she-lies")
    Stage.objects.exclude(pk=stage.pk).delete()
    return stage


def post(owner, day: int, hour: int) -> None:
    """Post a week in which her port side is sprayed on a day of May from an hour on."""
    stops = [("j1.port-as-she-lies", f"{hour}:00", f"{hour}:59")]
    out = (day, f"{hour - 1:02}:00", f"{hour + 2}:00", stops)
    version = sum(Week.objects.values_list("version", flat=True))
    planning.post(plans.draft([out], on_version=version), by=owner)
    Visit.objects.update(sky_says="allows", spoilt="")
    DueWork.objects.filter(verb="judge-stage").delete()


def by(texts, now: datetime) -> list[str]:
    """What has reached the phone by a moment since the last time, by its first words."""
    Outfit.objects.update(stands_at=now)
    Forecast.objects.update(issued_at=now - timedelta(hours=1))
    before = len(texts.asked)
    telling.drain()
    return [json.loads(one.body)["text"] for one in texts.asked[before:]]


def test_each_message_of_a_job_reaches_the_phone_once_at_its_hour(
    texts, owner, port, client
):
    (agreed,) = by(texts, plans.at(23, "19:00"))
    assert "agreed" in agreed
    post(owner, 28, 11)
    told = [at_last(texts, (26, "15:59"), (26, "16:00"))]
    told.append(at_last(texts, (27, "16:59"), (27, "17:00")))
    assert all("Fri 28 May" in one and "11:" in one for one in told), told
    post(owner, 28, 13)
    (moved,) = by(texts, plans.at(27, "17:01"))
    assert "between 12:45 and 13:45" in moved
    assert "13:45" in at_last(texts, (28, "07:59"), (28, "08:00"))
    Outfit.objects.update(stands_at=plans.at(28, "14:05"))
    rider = Person.objects.get(key="rook")
    reporting.finish(Stage.objects.get(), rider, plans.at(28, "14:00"))
    ready, wet = sorted(by(texts, plans.at(28, "14:06")))
    assert "film on the port side is wet" in wet
    assert "you can collect the boat" in ready
    assert Notice.objects.filter(reason="pickup", channel="email").exists()
    (yearly,) = by(texts, plans.at(28, "12:00") + timedelta(days=366))
    assert "Fri 28 May 2027" in yearly
    arrived(client)


def test_a_customer_three_hours_west_is_written_to_by_her_own_clock(texts, owner, port):
    """17:00 in Maine is 14:00 with her and goes; 08:00 is 05:00 with her and waits to 11:00, 08:00 with her."""
    Customer.objects.update(time_zone="America/Los_Angeles")
    by(texts, plans.at(23, "19:00"))
    post(owner, 28, 13)
    by(texts, plans.at(26, "20:00"))
    assert "between 12:45 and 13:45" in at_last(texts, (27, "16:59"), (27, "17:00"))
    Outfit.objects.update(stands_at=plans.at(28, "08:00"))
    post(owner, 28, 16)
    assert Notice.objects.filter(reason="moved", state="waiting").exists()
    for clock in ("08:00", "09:30", "10:59"):
        assert by(texts, plans.at(28, clock)) == []
    told = by(texts, plans.at(28, "11:00"))
    assert any("between 15:45 and 16:45" in one for one in told), told


def at_last(texts, before: tuple[int, str], at: tuple[int, str]) -> str:
    """The one text that comes at a moment, and not yet a minute before."""
    early, then = by(texts, plans.at(*before)), by(texts, plans.at(*at))
    assert early == [], early
    assert len(then) == 1, then
    return then[0]


def arrived(client) -> None:
    """A signed post says that what the gateway numbered has arrived, and the message shows it."""
    body = json.dumps({"id": "m-7", "status": "delivered"}).encode()
    stamp = str(int(time.time()))
    signed = {
        "X-Leeboard-Timestamp": stamp,
        "X-Leeboard-Signature": signing.sign(SECRET, stamp, body),
    }
    where = "/hear/notify_sms_http/"
    given = {"content_type": "application/json", "headers": signed}
    assert client.post(where, body, **given).status_code == 202
    sweeping.sweep()
    assert Notice.objects.filter(channel="text", delivery="delivered").exists()
