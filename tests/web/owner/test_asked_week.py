"""The week a stage's own pages are about: the board's that led there, else the one with its visit."""

import re
from datetime import date

import pytest

from dispatch.actions import timeline
from dispatch.records.models import Outfit, Pin, Week, WeekPlan
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db
WHY = "/week/why/j1.wash/"
MOVES = f"{WHY}moves/"


@pytest.fixture
def owner(client):
    account = people.owner()
    client.force_login(account)
    return account


@pytest.fixture
def next_week(owner):
    """Return a draft of the week to come, seen on the Thursday before: this week is built and has no visit."""
    plans.wash(plans.outfit())
    Week.objects.create(starts_on=date(2027, 5, 17))
    plan = placed()
    WeekPlan.objects.create(
        week=Week.objects.get(starts_on=date(2027, 5, 17)),
        state="draft",
        asked_at=plan.asked_at,
        built_at=plan.built_at,
        plan=plan.plan | {"van_days": []},
        problem=plan.problem,
        zero_at=timeline.of(Week.objects.get(starts_on=date(2027, 5, 17))).zero,
    )
    Outfit.objects.update(stands_at=plans.at(20, "09:00"))
    return plan


def test_the_board_of_next_week_leads_to_its_own_hours(client, next_week):
    told = client.get("/week/2027-05-24/").text
    to = f"{WHY}?week=2027-05-24"
    assert f'href="{to}"' in told
    why = client.get(to).text
    assert "The draft has it Tue 09:00" in why
    assert "Back to the week of 24 May" in why
    assert f'href="{MOVES}?week=2027-05-24"' in why


def test_the_week_that_has_its_visit_is_found_where_none_is_asked_for(
    client, next_week
):
    assert "The draft has it Tue 09:00" in client.get(WHY).text
    assert "The draft has it Tue 09:00" in client.get(MOVES).text


def test_the_week_asked_for_is_shown_though_another_has_its_visit(client, next_week):
    told = client.get(MOVES, {"week": "2027-05-17"}).text
    assert "It has no visit in this week." in told
    assert "Back to the week of 17 May" in told


def test_next_week_is_priced_tried_pinned_and_moved(client, next_week):
    asked = {"week": "2027-05-24"}
    priced = client.get(MOVES, asked | {"price": "1"}).text
    assert "The week would cost" in priced
    take = re.search(r'action="([^"]*take/[^"]*)"', priced)
    assert take
    assert take[1] == f"{MOVES}take/?week=2027-05-24"
    there = {"van": "knot", "day": "2027-05-25", "at": "11:00"}
    assert "It fits:" in client.get(MOVES, asked | there).text
    fast = client.post(f"{MOVES}fast/", {"plan": next_week.pk})
    assert fast.url == f"{MOVES}?week=2027-05-24"
    assert "It is made fast" in client.get(fast.url).text
    Pin.objects.all().delete()
    moved = client.post(take[1], {"on": "2027-05-26"})
    assert moved.url == "/week/2027-05-24/"
    assert WeekPlan.objects.filter(week=next_week.week).count() == 2


def test_on_sunday_the_running_week_is_still_about_itself(client, next_week):
    Outfit.objects.update(stands_at=plans.at(30, "06:00"))
    told = client.get(WHY, {"week": "2027-05-24"}).text
    assert "The draft has it Tue 09:00" in told


@pytest.mark.parametrize("said", ["soon", "", "9999-12-30", "0001-01-01"])
def test_what_is_no_week_is_no_page(client, next_week, said):
    assert client.get(WHY, {"week": said}).status_code == 404
    assert client.get(MOVES, {"week": said}).status_code == 404
