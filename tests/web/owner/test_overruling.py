"""The owner overrules a rule on a stage's page: seen there, on the board, by the crew, and taken back."""

import pytest

from dispatch.actions import weather
from dispatch.records.models import Override
from tests.actions import posted, test_overruling
from tests.web import people

pytestmark = pytest.mark.django_db
visit = test_overruling.visit
PAGE = "/week/why/j1.starboard/"
WHY = "A cloth hangs over that side"


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


def overrule(client, **given):
    return client.post(f"{PAGE}overrule/", {"code": "sun", "why": WHY} | given)


def test_what_may_be_overruled_stands_on_the_page_and_is_overruled(
    client, visit, owner
):
    told = client.get(PAGE).text
    assert "Overrule: sun on the panel" in told
    assert "Common practice of the trade." in told
    assert overrule(client).url == PAGE
    weather.judge(visit.stage)
    told = client.get(PAGE).text
    assert "Overrule: sun on the panel" not in told
    assert "“A cloth hangs over that side.”" in told
    assert "Let the rule stand again" in told


def test_the_crew_and_the_board_say_who_overruled_it_and_why(client, visit, owner):
    overrule(client)
    weather.judge(visit.stage)
    client.force_login(posted.Person.objects.get(key="rook").account)
    posted.stand("10:00")
    told = client.get("/route/").text
    assert "GO now" in told
    assert "Overruled by orla: starboard is in the sun" in told


def test_a_reason_that_says_nothing_is_refused_on_the_page(client, visit, owner):
    overrule(client, why="so")
    assert "Say why" in client.get(PAGE).text
    assert not Override.objects.exists()


def test_it_is_taken_back(client, visit, owner):
    overrule(client)
    row = Override.objects.get()
    assert client.post(f"{PAGE}stand/{row.pk}/").url == PAGE
    assert not Override.objects.exists()


def test_of_another_stage_it_is_not_taken_back(client, visit, owner):
    overrule(client)
    row = Override.objects.get()
    assert client.post(f"/week/why/j1.port/stand/{row.pk}/").status_code == 404
    assert Override.objects.exists()


@pytest.mark.parametrize("address", ["overrule/", "stand/1/"])
def test_nobody_else_may(client, visit, address):
    assert client.post(PAGE + address).url.startswith("/sign-in/")
    client.force_login(people.nobodys())
    assert client.post(PAGE + address).status_code == 403
    client.force_login(posted.Person.objects.get(key="rook").account)
    assert client.post(PAGE + address).status_code == 403


def test_a_visit_nobody_posted_has_nothing_to_overrule(client, visit, owner):
    visit.delete()
    assert overrule(client).status_code == 404
