"""Four callers at the machines' door: one owns, one drives, one has a boat, one is nobody's."""

from datetime import date, time

import pytest
from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from dispatch.actions import book, plugins, weather
from dispatch.records.models import (
    Account,
    Duty,
    JobKind,
    Person,
    Skill,
    Van,
)
from tests.actions import shop
from tests.trade.lanternglass import WEATHER

MONDAY = date(2027, 5, 24)


def signed_in(account: Account) -> APIClient:
    client = APIClient()
    token, _ = Token.objects.get_or_create(user=account)
    client.credentials(HTTP_AUTHORIZATION=f"Token {token.key}")
    return client


def crew_account(name: str) -> Account:
    person = Person.objects.create(
        key=name, name=name.title(), initials=name[:2], drives=True
    )
    for skill in ("prep", "mask", "lead"):
        Skill.objects.create(person=person, name=skill)
    for weekday in range(5):
        Duty.objects.create(person=person, weekday=weekday, start=time(7), end=time(17))
    return Account.objects.create(username=name, role="crew", person=person)


@pytest.fixture
def yard(db):
    shop.outfit()
    shop.catalogue()
    place = shop.driveway()
    Van.objects.create(
        key="knot",
        name="Knot",
        base=place,
        seats=5,
        gear=["washer"],
        duty_start=time(6),
        duty_end=time(18),
    )
    return place


@pytest.fixture
def sky(yard):
    options = {
        "folder": str(WEATHER),
        "file": "forecast_issued_sun_1800.csv",
        "issued_at": "2027-05-23T18:00:00-04:00",
    }
    plugins.enable("weather_file", options)
    plugins.enable("weather_veto", {})
    return weather.take_in(yard)


@pytest.fixture
def wash(yard):
    boat = shop.boat(yard)
    boat.customer.phone, boat.customer.text_consent = "+12075550131", True
    boat.customer.save()
    return book.take_job(
        key="j1",
        boat=boat,
        kind=JobKind.objects.get(key="wash"),
        unfinished_cents=50000,
    )


@pytest.fixture
def orla(db):
    return Account.objects.create(username="orla", role="owner")


@pytest.fixture
def owner(orla):
    return signed_in(orla)


@pytest.fixture
def rook(db):
    return crew_account("rook")


@pytest.fixture
def crew(rook):
    return signed_in(rook)


@pytest.fixture
def nobody(db):
    return APIClient()
