"""A boat's page by the customer's link: her own boat, no sign-in, no price, nobody's name."""

from datetime import timedelta

import pytest
from django.core import signing

from dispatch.actions import access, clock
from dispatch.records.models import Job
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(db):
    made = posted.sprayed(price_cents=123456)
    posted.stand("06:50")
    return made


def read(client, word):
    return client.get(f"/api/boat/{word}/")


def test_the_link_tells_where_the_boat_stands(nobody, job):
    told = read(nobody, access.boat_link(job)).json()
    assert (told["boat"], told["place"]) == ("Second Wind", "Marrow Road")
    assert told["stands"]
    assert {piece["state"] for piece in told["strip"]} == {"later"}


def test_it_tells_no_price_and_no_customers_name(nobody, job):
    text = read(nobody, access.boat_link(job)).content.decode()
    assert "123456" not in text
    assert "1234" not in text
    assert job.boat.customer.name not in text


def test_a_word_we_did_not_sign_for_this_is_refused(nobody, job):
    good = access.boat_link(job)
    for word in (good[:-1], f"x{good}", signing.dumps(job.pk, salt="another"), "1"):
        answer = read(nobody, word)
        assert answer.status_code == 403
        assert answer["Content-Type"] == "application/problem+json"
        assert "does not open" in answer.json()["detail"]


def test_the_link_runs_out_sixty_days_after_hand_back(nobody, job):
    word = access.boat_link(job)
    for days, status in ((60, 200), (61, 403)):
        Job.objects.update(handed_back_at=clock.now() - timedelta(days=days))
        assert read(nobody, word).status_code == status
