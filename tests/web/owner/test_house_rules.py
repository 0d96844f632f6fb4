"""A draft that breaks a rule of the house: the page says so, and posts it with a reason or not at all."""

from datetime import date

import pytest

from dispatch.records.models import Override, Person, Visit
from tests.actions import plans
from tests.actions.test_house_rules import LONG, WHY
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft(client):
    plans.coat(plans.outfit())
    client.force_login(people.owner())
    return plans.draft([LONG])


def post(client, draft, **given):
    return client.post(f"/week/plan/{draft.pk}/post/", given, follow=True).text


def test_it_says_what_is_broken_and_asks_for_a_reason(client, draft):
    told = client.get("/week/").text.replace("\N{NO-BREAK SPACE}", " ")
    assert "Before you post it" in told
    assert "7 h 30 without a break of 30 min" in told
    assert "The owner may overrule it, with a reason." in told
    assert ">Post the week<" not in told


def test_it_is_posted_with_the_reason_which_the_board_then_shows(client, draft):
    assert "Say why it may be so" in post(client, draft)
    assert not Visit.objects.exists()
    told = post(client, draft, why=WHY)
    assert "The week is posted" in told
    assert f"orla: {WHY}" in told
    assert Override.objects.get().plan == draft


def test_a_wall_leaves_no_button(client, draft):
    Person.objects.filter(key="rook").update(born=date(2009, 6, 1))
    told = client.get("/week/").text
    assert "It cannot be posted as it is" in told
    assert "Post the week" not in told
    assert "nobody may overrule it" in post(client, draft, why=WHY)
    assert not Visit.objects.exists()
