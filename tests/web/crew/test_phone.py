"""What a phone tells of the time of a report that waited on it."""

from datetime import timedelta

import pytest

from dispatch.records.models import Stage
from tests.actions import posted
from tests.web import people

pytestmark = pytest.mark.django_db


@pytest.fixture
def port(client):
    rook = people.crew()
    stage = posted.sprayed().stages.get(key="port")
    posted.visit(posted.van_day(rook.person), stage, "11:00", 90)
    posted.stand("13:00")
    client.force_login(rook)
    return stage


def ms(clock, ahead=0):
    return str(int((posted.at(clock) + timedelta(minutes=ahead)).timestamp() * 1000))


def report(client, stage, **told):
    return client.post(f"/route/stages/{stage.pk}/", {"do": "start", "at": ""} | told)


def started(stage):
    return Stage.objects.get(pk=stage.pk).started_at


def test_its_own_time_is_put_right_by_what_it_is_ahead(client, port):
    report(client, port, made_at=ms("11:20", 47), ahead=str(47 * 60_000))
    assert started(port) == posted.at("11:20")


def test_one_that_never_learnt_counts_by_its_clock_as_it_sends(client, port):
    report(client, port, made_at=ms("11:20", 47), sent_at=ms("13:00", 47))
    assert started(port) == posted.at("11:20")


def test_what_somebody_entered_stands(client, port):
    report(client, port, at="11:05", made_at=ms("11:20", 47), ahead=str(47 * 60_000))
    assert started(port) == posted.at("11:05")


@pytest.mark.parametrize(
    "told",
    [
        {"made_at": "soon"},
        {"made_at": "1" * 30, "ahead": "0"},
        {"made_at": "9" * 18, "ahead": "0"},
        {"made_at": ms("11:20"), "ahead": "x"},
        {"made_at": ms("11:20")},
        {"made_at": "1000", "ahead": "0"},
    ],
)
def test_what_is_no_time_is_refused_in_words(client, port, told):
    answer = report(client, port, **told)
    assert answer.status_code == 400
    assert "What the phone says of the time cannot be read" in answer.text
    assert started(port) is None
