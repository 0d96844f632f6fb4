"""A boat's page: the link opens it, to anybody who has it, and nothing else does."""

from datetime import timedelta
from urllib.parse import urlsplit

import pytest

from dispatch.actions import reporting, show_boat
from dispatch.records.models import Job
from tests.actions import posted
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    made = posted.sprayed(price_cents=136000)
    posted.warm(made.boat.place)
    rider = posted.person("teague")
    posted.visit(posted.van_day(rider), made.stages.get(key="port"), "10:03", 90)
    posted.stand("13:00")
    return made


@pytest.fixture
def link(job):
    return urlsplit(show_boat.link(job)).path


def test_who_has_the_link_reads_the_page_without_signing_in(client, link):
    answer = client.get(link)
    assert answer.status_code == 200
    assert "Second Wind is in our book" in answer.text
    assert "Spray port, two coats" in answer.text


def test_film_that_sets_is_told_and_drawn(client, link, job):
    teague = job.stages.get(key="port").visit.van_day.team.get()
    reporting.finish(job.stages.get(key="port"), teague, posted.at("11:30"))
    told = client.get(link).text
    assert "Port side sprayed and setting: hard enough to cover about Tue 01:3" in told
    assert "Port side: wet." in told
    assert "Do not touch, wash or cover her" in told


def test_no_price_no_crew_no_minute_of_arrival(client, link):
    posted.stand("06:59")
    told = client.get(link).text
    for words in ("1360", "1,360", "Teague", "Knot", "10:03", "09:48", "10:48"):
        assert words not in told


def test_it_is_kept_out_of_lists_and_caches(client, link):
    answer = client.get(link)
    assert "noindex" in answer["X-Robots-Tag"]
    assert answer["Referrer-Policy"] == "same-origin"
    assert "no-store" in answer["Cache-Control"]


@pytest.mark.parametrize("word", ["x", "Mg:1xWD4w:66gd5U0Rs3s8", "1", "%00"])
def test_a_link_that_is_not_ours_opens_a_plain_page(client, job, word):
    answer = client.get(f"/boat/{word}/")
    assert answer.status_code == 404
    assert "does not open anything" in answer.text
    assert "Second Wind" not in answer.text


def test_the_number_of_a_job_is_no_key(client, job):
    assert client.get(f"/boat/{job.pk}/").status_code == 404


def test_60_days_after_hand_back_it_has_run_out(client, link, job):
    Job.objects.update(
        state="handed-back", handed_back_at=posted.at("12:00") - timedelta(days=61)
    )
    answer = client.get(link)
    assert answer.status_code == 404
    assert "has run out" in answer.text


def test_nothing_can_be_sent_to_it(client, link):
    assert client.post(link).status_code == 405


@pytest.mark.parametrize("make", [people.owner, people.crew])
def test_who_works_here_needs_the_link_as_well(client, link, job, make):
    client.force_login(make())
    assert client.get(link).status_code == 200
    assert client.get("/boat/1/").status_code == 404


def test_nobody_finds_the_boat_without_her_link(client, job):
    assert client.get("/boat/").status_code == 404
