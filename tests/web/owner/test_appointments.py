"""The owner moves a posted lift slot on the job's page, or among what has happened; nobody else may."""

import pytest

from dispatch.records.models import Job, Visit, WeekPlan
from tests.actions import plans
from tests.actions.test_appointments import FRIDAY_AT, owner, posted  # noqa: F401
from tests.web import people
from tests.web.owner.test_book import fields

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
MOVE, TERMS = "/jobs/j1/appointment/", "/jobs/j1/terms/"
TELL = "/week/2027-05-24/happened/"


@pytest.fixture
def orla(client, owner, posted):  # noqa: F811 - the fixtures
    client.force_login(owner)
    return owner


def test_the_job_page_moves_it_and_says_who_knows_the_old_time(client, orla):
    assert "Appointment Thu 27 May, 09:45" in client.get(TERMS).text
    answer = client.post(MOVE, {"to": "2027-05-28T10:30"}, follow=True)
    assert "2 posted visits were taken off." in answer.text
    assert "Plan the rest of its week anew" in answer.text
    assert "was told Thu 27 May, 09:30, and no visit stands then" in answer.text
    assert Job.objects.get().fixed_start == FRIDAY_AT


def test_moved_to_another_week_the_page_says_that_it_is_told_at_once(client, orla):
    answer = client.post(MOVE, {"to": "2027-06-03T10:30"}, follow=True)
    assert "Ames is told by message at once that it moved." in answer.text
    assert "and no visit stands then" not in answer.text
    page = client.get("/messages/").text
    assert "The appointment is now Thu 3 Jun 10:30" in page


def test_the_terms_of_a_posted_job_say_where_it_is_moved(client, orla):
    sent = fields(client.get(TERMS)) | {"fixed_start": "2027-05-28T10:30"}
    answer = client.post(TERMS, sent)
    assert "A fixed appointment is moved above" in answer.text
    assert Visit.objects.count() == 2


def test_it_is_entered_among_what_has_happened_and_the_rest_planned_anew(client, orla):
    page = client.get(TELL).text
    assert "An appointment was moved" in page
    assert "Second Wind, Thu 27 May 09:45" in page
    sent = {"job": "j1", "to": "2027-05-28T10:30", "anew": "1"}
    client.post(f"{TELL}appointment/", sent)
    told = "Ames was told Thu 27 May 09:30, and is told the new time once you post"
    assert told in client.get(TELL).text
    asked = WeekPlan.objects.get(state="asked")
    assert "is Fri 28 May 10:30 now" in asked.cause


def test_a_slip_of_the_pen_is_told_in_words(client, orla):
    answer = client.post(MOVE, {"to": "whenever"}, follow=True)
    assert "Give a day and a time" in answer.text
    assert Visit.objects.count() == 2


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_moves_it(client, posted, make):  # noqa: F811 - the fixture
    client.force_login(make())
    assert client.post(MOVE, {"to": "2027-05-28T10:30"}).status_code == 403
    assert Job.objects.get().fixed_start == plans.at(27, "09:45")
