"""One word a knot: with its hour, with its day where that is another, and which knot is next."""

import pytest

from dispatch.actions import show_route
from dispatch.records.models import Stage
from dispatch.web.crew import knots
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    rider = posted.person("rook")
    day = posted.van_day(rider)
    for key, start in (("prep", "08:00"), ("inside", "10:00"), ("finish", "12:00")):
        posted.visit(day, job.stages.get(key=key), start)
        posted.judged(job.stages.get(key=key))
    posted.stand("07:00")
    return rider


def tied(rook, refusal=None):
    route = show_route.route(rook, posted.MONDAY)
    return list(knots.of(route, refusal, posted.MONDAY))


def test_ahead_of_its_hour_go_names_it_and_in_its_hour_it_is_now(rook):
    assert tied(rook)[0].headline == "GO at 08:00"
    posted.stand("08:05")
    assert tied(rook)[0].headline == "GO now"


def test_a_wait_into_another_day_names_the_day(rook):
    """Fourteen hours of cure at 70 F after 11:00 end at 01:00 of the day after."""
    Stage.objects.filter(key__in=("port", "starboard", "ends")).update(
        state="done", ended_at=posted.at("11:00")
    )
    posted.stand("11:30")
    assert tied(rook)[2].headline.startswith("WAIT until Tue 01:0")


def test_a_wait_without_an_end_names_none(rook):
    assert tied(rook)[2].headline == "WAIT"


def test_the_first_that_is_not_done_is_next_and_open(rook):
    Stage.objects.filter(key="prep").update(state="done", ended_at=posted.at("06:50"))
    found = tied(rook)
    assert [knot.is_next for knot in found] == [False, True, False]
    assert (found[0].headline, found[0].may_report) == ("DONE", False)


def test_a_refusal_opens_the_knot_it_belongs_to(rook):
    visit_id = tied(rook)[2].stop.visit.visit_id
    refused = knots.Refusal(visit_id=visit_id, sentence="Check the time.")
    found = tied(rook, refused)
    assert [knot.is_open for knot in found] == [True, False, True]
    assert [bool(knot.refusal) for knot in found] == [False, False, True]


@pytest.mark.parametrize(
    ("sentence", "at"),
    [
        ("warm is not a temperature. Write a number.", "air"),
        ("Mon 23:30 has not come yet.", ""),
        ("61 cannot be a humidity. Read it again.", "humidity"),
    ],
)
def test_a_sentence_is_about_the_field_whose_words_it_begins_with(sentence, at):
    given = {"do": "read", "surface": "", "air": "warm ", "humidity": "61"}
    refused = knots.Refusal(visit_id=1, sentence=sentence, given=given)
    assert refused.wrong == at
