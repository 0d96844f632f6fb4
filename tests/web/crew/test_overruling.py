"""The lead on site overrules what is a lead's, on the route; nobody else does."""

import pytest

from dispatch.actions import weather
from dispatch.records.models import Override, Skill
from tests.actions import posted, test_overruling
from tests.web import forms, people

pytestmark = pytest.mark.django_db
visit = test_overruling.visit
WHY = "Wiped and blown dry at nine"


@pytest.fixture
def wet(visit):
    """The visit with a hull that counts as wet, which is a lead's to overrule."""
    visit.stage.vetoes.all().delete()
    visit.stage.vetoes.create(
        plugin="weather_veto",
        edge="during",
        start=visit.start,
        end=visit.end,
        code="wet-hull",
        sentence="she was wet from dew or rain",
        strength="lead",
    )
    posted.stand("10:00")
    return visit


def rook():
    return posted.Person.objects.get(key="rook")


def overrule(client, visit, why=WHY, code="wet-hull"):
    address = f"/route/stages/{visit.stage_id}/overrule/"
    return client.post(address, {"code": code, "why": why})


def test_a_lead_overrules_it_and_the_route_says_so(client, wet):
    Skill.objects.create(person=rook(), name="lead")
    client.force_login(rook().account)
    assert "Lead on site: overrule hull still wet" in client.get("/route/").text
    assert overrule(client, wet).status_code == 302
    told = client.get("/route/").text
    assert "Overruled by Rook: she was wet from dew or rain" in told
    assert "being judged by that now" in told
    assert "Lead on site" not in told


def test_who_is_no_lead_may_not(client, wet):
    client.force_login(rook().account)
    answer = overrule(client, wet)
    assert answer.status_code == 403
    assert "Only the owner may overrule this" in answer.text
    assert not Override.objects.exists()


def test_what_is_the_owners_is_not_offered_and_not_taken(client, visit):
    Skill.objects.create(person=rook(), name="lead")
    weather.judge(visit.stage)
    client.force_login(rook().account)
    posted.stand("10:00")
    assert "Lead on site" not in client.get("/route/").text
    assert overrule(client, visit, code="sun").status_code == 403


def test_without_a_reason_the_page_asks_for_one(client, wet):
    Skill.objects.create(person=rook(), name="lead")
    client.force_login(rook().account)
    answer = overrule(client, wet, why="dry")
    assert answer.status_code == 400
    assert "Say why" in answer.text
    assert not Override.objects.exists()


def test_strangers_are_sent_away(client, wet):
    assert overrule(client, wet).url.startswith("/sign-in/")
    client.force_login(people.nobodys())
    assert overrule(client, wet).status_code == 403


def test_a_refused_reason_stays_with_its_rule_and_where_that_is_gone_it_is_shown(
    client, wet
):
    Skill.objects.create(person=rook(), name="lead")
    client.force_login(rook().account)
    page = overrule(client, wet, why="so").text
    form = forms.on(page, action=f"/route/stages/{wet.stage_id}/overrule/")
    assert form.sends["why"] == "so"
    assert "Say why" in forms.beside(page, form, "why")
    wet.stage.vetoes.all().delete()
    page = overrule(client, wet).text
    assert "does not stand against this visit any more" in page
    assert f"You wrote: “{WHY}”" in page
