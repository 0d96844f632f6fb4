"""The demo's clock is told on every page, and moved on by the owner alone."""

from datetime import timedelta

import pytest

from dispatch.actions import clock
from dispatch.records.models import HistoryEntry, Outfit
from tests.actions import shop
from tests.web import people

pytestmark = pytest.mark.django_db
LATER = (shop.NOW + timedelta(hours=1)).isoformat()


@pytest.fixture(autouse=True)
def outfit():
    return shop.outfit()


def test_the_banner_tells_the_moment(client):
    told = client.get("/sign-in/").text
    assert "Demo clock: stands at" in told
    assert "Sun 23 May 2027 19:00" in told
    assert "Move it on" not in told


def test_the_real_clock_needs_no_banner(client):
    Outfit.objects.update(stands_at=None)
    assert "Demo clock" not in client.get("/sign-in/").text


def test_the_owner_moves_it_on_and_comes_back(client):
    client.force_login(people.owner())
    answer = client.post("/clock/", {"to": LATER, "next": "/nowhere/"})
    assert answer.url == "/nowhere/"
    assert clock.now() == shop.NOW + timedelta(hours=1)
    (row,) = HistoryEntry.objects.filter(verb="move-clock")
    assert row.by is not None
    assert row.sentence == (
        "Moved the demo's clock from Sun 23 May 19:00 to Sun 23 May 20:00."
    )
    told = client.get("/nowhere/").text
    assert "Sun 23 May 2027 20:00" in told
    assert "to 06:00" in told


def test_it_never_goes_back(client):
    client.force_login(people.owner())
    early = (shop.NOW - timedelta(hours=1)).isoformat()
    client.post("/clock/", {"to": early})
    assert clock.now() == shop.NOW
    assert not HistoryEntry.objects.exists()


@pytest.mark.parametrize("given", ["", "soon", "2027-05-24"])
def test_what_is_no_moment_is_refused(client, given):
    client.force_login(people.owner())
    assert client.post("/clock/", {"to": given}).status_code == 400
    assert clock.now() == shop.NOW


def test_it_leads_to_no_other_site(client):
    client.force_login(people.owner())
    assert client.post("/clock/", {"to": LATER, "next": "//else.test/"}).url == "/"


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_moves_it(client, make):
    client.force_login(make())
    assert client.post("/clock/", {"to": LATER}).status_code == 403
    assert clock.now() == shop.NOW


def test_a_stranger_is_asked_to_sign_in(client):
    assert client.post("/clock/", {"to": LATER}).url.startswith("/sign-in/")
