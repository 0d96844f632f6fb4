"""Two white boats in one row: a report of the one the route is not at is asked about before it counts."""

import pytest

from dispatch.actions import which_boat
from dispatch.actions.errors import Unsure
from dispatch.records.models import HistoryEntry, Stage
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return posted.person("rook")


@pytest.fixture
def day(rook):
    return posted.van_day(rook)


@pytest.fixture
def wash(day):
    """The route is at Second Wind's first visit at nine, at Curlew's at eleven."""
    job = posted.sprayed()
    other = posted.beside(job).stages.get(key="prep")
    here = job.stages.get(key="prep")
    posted.visit(day, here, "09:00")
    posted.visit(day, other, "11:00")
    posted.stand("11:30")
    return other


def ask(stage, rook, *, sure=False):
    which_boat.check(stage, rook, posted.MONDAY, sure=sure)


def test_the_other_boat_is_asked_about_by_what_tells_the_two_apart(wash, rook):
    with pytest.raises(Unsure) as asked:
        ask(wash, rook)
    told = str(asked.value)
    assert (
        "Your route is at Second Wind (20 ft white centre console; Marrow Road)" in told
    )
    assert "of Curlew (20 ft white centre console; Marrow Road, row 2)" in told
    assert "Nothing is stored yet" in told


def test_the_answer_is_kept_in_the_history(wash, rook):
    ask(wash, rook, sure=True)
    row = HistoryEntry.objects.get(verb="sure-of-boat")
    assert row.sentence == "Rook is at Curlew, not at Second Wind, where the route is."
    assert (row.subject, row.by.person) == ("job j2", rook)


def test_the_boat_the_route_is_at_is_not_asked_about(wash, day, rook):
    ask(day.visits.earliest("start").stage, rook)
    Stage.objects.filter(job__key="j1", key="prep").update(
        state="done", ended_at=posted.at("10:30")
    )
    ask(wash, rook)
    assert not HistoryEntry.objects.filter(verb="sure-of-boat").exists()


def test_what_somebody_said_was_begun_is_not_asked_about_again(wash, rook):
    Stage.objects.filter(pk=wash.pk).update(
        state="under-way", started_at=posted.at("11:00")
    )
    ask(Stage.objects.get(pk=wash.pk), rook)
