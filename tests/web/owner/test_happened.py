"""What the week did not foresee, told by the owner: what is stored, what comes of it, and what a refusal keeps."""

import html
import re

import pytest

from dispatch.records.models import Boat, DayOff, DueWork, Stage, Visit, Week
from tests.actions import plans
from tests.actions.test_appointments import owner, posted  # noqa: F401
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
AT = f"/week/{plans.MONDAY}/happened/"
ALERT = re.compile(r'<p class="notice error" role="alert"[^>]*>(.*?)</p>', re.DOTALL)


def part(page: str, name: str) -> str:
    """Return the part of the page that holds a form, by its name."""
    return page.partition(f'<section aria-labelledby="{name}">')[2].partition(
        "</section>"
    )[0]


def entered(section: str) -> dict[str, str]:
    """Return what stands in a form's fields."""
    form = section.partition("</form>")[0]
    inputs = re.findall(r'<input id="[^>]*? name="(\w+)"(?: value="([^"]*)")?', form)
    picks = {
        name: re.findall(r'<option value="([^"]*)" selected>', body)
        for name, body in re.findall(
            r'<select id="[^>]*? name="(\w+)".*?>(.*?)</select>', form, re.DOTALL
        )
    }
    chosen = {name: one[0] for name, one in picks.items() if one}
    return {name: html.unescape(value) for name, value in inputs if value} | chosen


def test_a_moved_boat_is_said_to_be_judged_before_she_is_planned(client):
    place = plans.outfit()
    plans.wash(place)
    Week.objects.create(starts_on=plans.MONDAY)
    DueWork.objects.all().delete()
    client.force_login(people.owner())
    boat = Boat.objects.get()
    sent = {"boat": boat.key, "place": place.key, "heading": "110", "reference": "true"}
    answer = client.post(f"{AT}boat/", sent, follow=True)
    told = answer.text
    assert "Her sky is judged anew first, which takes a minute or two" in told
    assert "nobody is told" in told
    assert DueWork.objects.filter(done_at=None).exists()


@pytest.fixture
def week(client, owner, posted):  # noqa: F811 - the fixtures
    """Sign the owner in to a posted week."""
    client.force_login(owner)


def begun() -> str:
    """Begin the first visit, and return it as the form names it."""
    visit = Visit.objects.order_by("start")[0]
    Stage.objects.filter(pk=visit.stage_id).update(
        state=Stage.State.UNDER_WAY, started_at=visit.start
    )
    return str(visit.pk)


REFUSED = {
    "away": (
        {
            "person": "teague",
            "first": "2027-05-28",
            "last": "2027-05-26",
            "start": "09:00",
            "end": "12:00",
            "reason": "school & “play”",
        },
        "Put the later day last.",
    ),
    "van": (
        {"van": "knot", "first": "2027-05-28", "last": "2027-05-26", "reason": "gear"},
        "Put the later day last.",
    ),
    "longer": ({"until": "00:01"}, "give a time later than that"),
    "appointment": ({"job": "j1", "to": "2019-05-28T10:30"}, "has gone by"),
    "thing": ({"thing": "the-shed", "place": ""}, "Choose one of the list first."),
    "boat": (
        {"heading": "north", "reference": "magnetic"},
        "“north” is no heading. Enter degrees from 0 to 360.",
    ),
}


@pytest.mark.parametrize("what", REFUSED)
def test_a_refused_form_keeps_what_was_entered_with_the_sentence_beside_it(
    client, week, what
):
    sent, said = REFUSED[what]
    if what == "longer":
        sent = sent | {"visit": begun()}
    if what == "boat":
        boat = Boat.objects.get()
        sent = sent | {"boat": boat.key, "place": boat.place.key}
    untouched = entered(part(client.get(AT).text, "van" if what == "away" else "away"))
    answer = client.post(f"{AT}{what}/", sent | {"anew": "1"})
    section = part(answer.text, what)
    assert answer.status_code == 400
    (alert,) = ALERT.findall(answer.text)
    assert alert in section
    assert said in html.unescape(alert)
    assert entered(section) == {name: value for name, value in sent.items() if value}
    other = part(answer.text, "van" if what == "away" else "away")
    assert entered(other) == untouched


def test_what_cannot_be_taken_back_fills_in_no_form(client, week):
    shown = entered(part(client.get(AT).text, "away"))
    answer = client.post(f"{AT}away/", {"person": "rook", "back": "2027-05-26"})
    section = part(answer.text, "away")
    assert "Rook Ferrante is not away on Wednesday 26 May" in section
    assert entered(section) == shown


def test_put_right_it_is_stored_once_and_its_address_leads_back_to_the_forms(
    client, week
):
    sent = {"person": "teague", "first": "2027-05-28", "last": "2027-05-26"}
    client.post(f"{AT}away/", sent)
    assert not DayOff.objects.exists()
    client.post(f"{AT}away/", sent | {"last": "2027-05-28"})
    assert DayOff.objects.count() == 1
    assert client.get(f"{AT}away/").headers["Location"] == AT


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_tells_it(client, week, make):
    client.force_login(make())
    assert client.get(f"{AT}away/").status_code == 403
    assert client.post(f"{AT}away/", {"person": "teague"}).status_code == 403
    assert not DayOff.objects.exists()


def test_what_cannot_be_chosen_any_more_is_still_told(client, week):
    begun()
    answer = client.post(f"{AT}appointment/", {"job": "j1", "to": "2027-05-28T10:30"})
    section = part(answer.text, "appointment")
    assert "no appointment to come" in section
    assert entered(section) == {"to": "2027-05-28T10:30"}
