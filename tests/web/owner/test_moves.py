"""The page of what holds a visit: who may see it, what it says, what other days cost, and moving it."""

import re
from datetime import date

import pytest

from dispatch.actions import planning, weather
from dispatch.records.models import Judged, Stage, Visit, WeekPlan
from tests.actions import plans, posted
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db
PAGE = "/week/why/j1.wash/moves/"


@pytest.fixture
def washed():
    plans.wash(plans.outfit())
    return placed()


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_sees_or_moves_it(client, washed, make):
    client.force_login(make())
    assert client.get(PAGE).status_code == 403
    assert client.post(f"{PAGE}take/", {"on": "2027-05-26"}).status_code == 403
    assert WeekPlan.objects.count() == 1


def test_a_stranger_is_asked_to_sign_in(client, washed):
    assert client.get(PAGE).url == f"/sign-in/?next={PAGE}"


def test_the_why_page_leads_to_it_and_it_says_what_holds_the_visit(
    client, washed, owner
):
    assert f'href="{PAGE}?week=2027-05-24"' in client.get("/week/why/j1.wash/").text
    told = client.get(PAGE).text
    assert "What keeps it from starting sooner" in told
    assert re.search(r"Its window opens Tue \d\d:\d\d\.", told)
    assert "Rook Ferrante is on duty until Tue 17:00." in told
    assert "Price every day" in told
    assert "day 2" not in told


def test_hours_whose_sky_is_not_known_are_not_shown_as_fine(client, washed, owner):
    known, unknown = "What follows is by the sky", "The sky of these hours is not known"
    for stage in Stage.objects.all():
        weather.judge(stage)
    assert known not in client.get(PAGE).text
    Judged.objects.update(fault="The source is down")
    told = client.get(PAGE).text
    assert f"{unknown}. The source is down" in told
    assert known in told


def test_every_day_is_priced_or_refused_and_one_can_be_taken(client, washed, owner):
    told = client.get(PAGE, {"price": "1"}).text
    assert "Tuesday 25 May" in told
    assert "It is on Tuesday already." in told
    assert "The week would cost" in told
    moved = client.post(f"{PAGE}take/", {"on": "2027-05-26"}, follow=True)
    assert "This draft has it on Wednesday." in moved.text
    assert WeekPlan.objects.count() == 2
    assert not Visit.objects.exists()


@pytest.mark.parametrize(
    ("on", "sentence"),
    [
        ("soon", "That is no day."),
        ("2027-05-25", "It is on Tuesday already."),
        ("2027-06-30", "no day of this week"),
    ],
)
def test_a_day_that_will_not_do_is_refused_in_a_sentence(
    client, washed, owner, on, sentence
):
    answer = client.post(f"{PAGE}take/", {"on": on}, follow=True)
    assert sentence in answer.text
    assert WeekPlan.objects.count() == 1


def test_a_stage_without_a_visit_and_a_week_without_a_plan_say_so(
    client, washed, owner
):
    washed.plan |= {"van_days": []}
    washed.save()
    assert "It has no visit in this week." in client.get(PAGE).text
    washed.delete()
    assert "Build it first." in client.get(PAGE).text
    assert client.get("/week/why/j9.none/moves/").status_code == 404


def test_of_a_van_that_is_out_it_says_who_stays_and_what_to_do(client, washed, owner):
    planning.post(washed, by=owner)
    assert "Swap them in a draft" in client.get(PAGE).text
    posted.stand("09:30", date(2027, 5, 25))
    told = client.get(PAGE).text
    assert "Swap them in a draft" not in told
    assert re.search(r"Knot left Tue \d\d:\d\d with .* and is planned back Tue", told)
    assert "nobody joins it on the way" in told
    assert "no van is left at its base" in told
    posted.stand("23:00", date(2027, 5, 25))
    assert "That day is over for it" in client.get(PAGE).text


def test_all_that_was_changed_by_hand_is_taken_back_in_one_act(client, washed, owner):
    for at in ("11:00", "12:00"):
        last = WeekPlan.objects.order_by("-pk").first()
        sent = {"plan": last.pk, "van": "knot", "day": "2027-05-25", "at": at}
        client.post(f"{PAGE}put/", sent)
    assert "Undo all 2" in client.get("/week/").text
    last = WeekPlan.objects.order_by("-pk").first()
    told = client.post(f"/week/plan/{last.pk}/undo/", {"all": "1"}, follow=True).text
    assert "All 2 taken back. Second Wind, “Maintenance wash” on Tuesday at 12" in told
    assert "Undo" not in told
    washed.refresh_from_db()
    assert washed.state == "draft"


def test_a_swap_that_crosses_shows_both_and_names_the_van(client, washed, owner):
    sent = {"plan": washed.pk, "van": "knot", "day": "2027-05-25"}
    client.post(f"{PAGE}put/", sent | {"at": "11:00"})
    riders = {"out": "rook", "into": "teague"}
    answer = client.post(f"{PAGE}swap/", sent | riders)
    assert answer.status_code == 409
    assert "Somebody else was first with this week" in answer.text
    assert "Second Wind, Maintenance wash: Tue 09:00" in answer.text
    assert "Second Wind, Maintenance wash: Tue 11:00" in answer.text
    assert "No visit in the week" not in answer.text
    assert "Change who rides in Knot on 2027-05-25." in answer.text
