"""The owner finds each boat's link, whole and within a message; nobody else does."""

from datetime import timedelta

import pytest

from dispatch.actions import boat_links
from dispatch.records.models import Job
from tests.actions import plans, shop
from tests.web import people

pytestmark = pytest.mark.django_db
LINKS = "/week/links/"


@pytest.fixture
def job():
    return plans.coat(plans.outfit())


@pytest.fixture
def owner(client):
    client.force_login(people.owner())


def test_the_link_opens_the_boats_page_without_a_sign_in(client, job, owner, settings):
    settings.PUBLIC_URL = "https://boats.example"
    told = client.get(LINKS).text
    (link,) = boat_links.all_open()
    assert link.address.startswith("https://boats.example/boat/")
    assert "https://boats.example/boat/" in told
    assert "Second Wind: where she stands and what comes next" in told
    client.logout()
    assert "Second Wind" in client.get(link.path).text


@pytest.mark.parametrize("make", [people.crew, people.nobodys])
def test_nobody_else_sees_the_links(client, job, make):
    client.force_login(make())
    answer = client.get(LINKS)
    assert answer.status_code == 403
    assert "/boat/" not in answer.text


def test_a_stranger_is_asked_to_sign_in(client, job):
    assert client.get(LINKS).url == f"/sign-in/?next={LINKS}"


def test_a_link_that_opens_nothing_any_more_is_not_shown(client, job, owner):
    gone = shop.NOW - timedelta(days=61)
    Job.objects.update(state=Job.State.HANDED_BACK, handed_back_at=gone)
    assert "No boat with an open job is in the book yet" in client.get(LINKS).text


def test_a_stages_why_leads_to_the_boats_link(client, job, owner):
    assert 'href="/week/links/#link-j1"' in client.get("/week/why/j1.mask/").text
