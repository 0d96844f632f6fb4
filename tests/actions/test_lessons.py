"""What finished stages teach is taken over with one tap, written down, reckoned with, and never counted twice.

The ratios are hand-made examples; that three stages are enough, and 0.6 to 2 the bounds, are assumptions.
"""

from datetime import timedelta

import pytest

from dispatch.actions import book, lessons, refiguring, took
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Account, HistoryEntry, Job, JobKind, Setting, Stage
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    """A wash still to be done, and a boat that was washed thrice."""
    posted.sprayed()
    Job.objects.all().delete()
    posted.person("rook")
    boat = posted.boat()
    kind = JobKind.objects.get(key="wash")
    made = book.take_job(key="j1", boat=boat, kind=kind)
    for number in range(3):
        done(boat, kind, number)
    return made


def done(boat, kind, number: int, times: float = 1.5) -> None:
    """A finished wash that took one person so many times the planned labour."""
    other = book.take_job(key=f"old{number}", boat=boat, kind=kind)
    stage = other.stages.get()
    day = posted.van_day(
        posted.Person.objects.get(key="rook"),
        day=posted.MONDAY + timedelta(days=number),
    )
    posted.visit(day, stage, "08:00")
    start = posted.at("08:00", day.on)
    end = start + timedelta(minutes=times * took.labour(stage))
    Stage.objects.filter(pk=stage.pk).update(
        state="done", started_at=start, ended_at=end
    )


@pytest.fixture
def orla():
    return Account.objects.create(username="orla", role="owner")


def labour(job) -> float:
    return took.labour(job.stages.get())


def test_it_is_taken_over_as_a_setting_with_its_line_and_reckoned_with(job, orla):
    before = labour(job)
    assert lessons.of(job).offers
    assert lessons.take(job, by=orla) == pytest.approx(1.5, abs=0.02)
    assert Setting.objects.get(name="learnt.wash.2").value == pytest.approx(
        1.5, abs=0.02
    )
    entry = HistoryEntry.objects.filter(verb="set").get()
    assert (
        "Wash, grade 2, takes the catalogue's minutes” now 1.5 times (was 1 times)"
        in entry.sentence
    )
    assert entry.why == "Learnt from 3 finished stages."
    refiguring.refigure(job)
    assert labour(job) == pytest.approx(1.5 * before, rel=0.02)


def test_what_was_planned_with_it_is_not_counted_twice(job, orla):
    lessons.take(job, by=orla)
    with pytest.raises(Refused, match="nothing to take over"):
        lessons.take(job, by=orla)
    # A fourth boat, planned with what was learnt, takes just what was planned.
    done(posted.boat(), job.kind, 3, times=1.0)
    assert lessons.of(job).ratio == pytest.approx(1.5, abs=0.03)
    assert not lessons.of(job).offers


def test_two_stages_teach_nothing_yet(job, orla):
    Stage.objects.filter(job__key="old2").delete()
    assert lessons.of(job).few
    with pytest.raises(Refused, match="2 finished stages are known, 3 are needed"):
        lessons.take(job, by=orla)


def test_only_the_owner_takes_it_over(job):
    rook = Account.objects.get(username="rook")
    with pytest.raises(Stranger):
        lessons.take(job, by=rook)
    assert not Setting.objects.exists()


def test_the_estimate_has_the_button_and_says_what_was_taken_over(job, orla, client):
    client.force_login(orla)
    page = client.get("/jobs/j1/").text
    assert "Reckon such jobs with 1.5" in page
    told = client.post("/jobs/j1/learn/", follow=True).text
    assert "times the minutes now." in told
    assert "as you took over" in told
    assert "Reckon such jobs with" not in told
    client.logout()
    assert client.post("/jobs/j1/learn/").status_code == 302
