"""Where a visit is dropped: read from the sheet's own scale, in bounds, by the owner alone."""

from datetime import timedelta

import pytest

from dispatch.actions import timeline
from dispatch.web.owner import drawing
from tests.actions import plans
from tests.actions.test_moves import placed
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan():
    plans.wash(plans.outfit())
    return placed()


def test_the_sheet_is_read_back_to_the_minute(plan):
    line = timeline.of(plan.week)
    along = drawing.across(line.dates, line.zone)
    for minute in range(0, 7 * 1440, 97):
        moment = line.moment(minute)
        assert abs(along.moment(along.x(moment)) - moment) < timedelta(seconds=30)


@pytest.mark.parametrize("query", ["", "?x=", "?x=nan", "?x=inf", "?by=soon"])
def test_what_is_no_place_is_refused_in_a_sentence(client, plan, query):
    client.force_login(people.owner())
    answer = client.get(f"/week/plan/{plan.pk}/drop/j1.wash/{query}")
    assert answer.status_code == 200
    assert "That is no place on the board" in answer.text


def test_far_away_is_no_day_of_the_week(client, plan):
    client.force_login(people.owner())
    told = client.get(f"/week/plan/{plan.pk}/drop/j1.wash/?by=999999").text
    assert "is no day of this week" in told
    assert client.get(f"/week/plan/{plan.pk}/drop/j9.no/?by=15").status_code == 200


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_asks(client, plan, make):
    client.force_login(make())
    assert client.get(f"/week/plan/{plan.pk}/drop/j1.wash/?by=15").status_code == 403
