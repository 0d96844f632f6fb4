"""A report taken back within its day: stage, cans, film, job and messages as before; and put to the right boat."""

import pytest

from dispatch.actions import reporting, taken_back
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import (
    Can,
    Customer,
    HistoryEntry,
    Hold,
    Job,
    Laid,
    Notice,
    Photo,
    Stage,
)
from dispatch.trade import units
from tests.actions import posted
from tests.actions.test_stores import can, left

pytestmark = pytest.mark.django_db


@pytest.fixture
def rook():
    return posted.person("rook")


@pytest.fixture
def port(rook):
    job = posted.sprayed()
    posted.warm(job.boat.place)
    Customer.objects.update(text_consent=True, phone="+12075550123")
    stage = job.stages.get(key="port")
    posted.visit(posted.van_day(rook), stage, "11:00", 90)
    posted.stand("13:00")
    can(30)
    return stage


@pytest.fixture
def other(port):
    found = posted.beside(port.job).stages.get(key="port")
    posted.visit(port.visit.van_day, found, "14:00", 90)
    return found


def fresh(stage):
    return Stage.objects.get(pk=stage.pk)


def test_a_start_taken_back_is_to_do_again(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    taken_back.take_back(fresh(port), rook)
    assert (fresh(port).state, fresh(port).started_at) == ("to-do", None)
    assert Job.objects.get().state == "agreed"
    verbs = HistoryEntry.objects.filter(subject="job j1").values_list("verb", flat=True)
    assert {"start-stage", "take-back-report"} <= set(verbs)
    said = HistoryEntry.objects.get(verb="take-back-report")
    assert said.sentence == (
        "Rook takes back that Spray port, two coats on Second Wind was started at Mon 11:05."
    )
    assert said.by.person == rook


def test_a_finish_taken_back_gives_the_cans_the_film_and_the_message_back(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    reporting.finish(fresh(port), rook, posted.at("12:40"), 14.5)
    assert Notice.objects.filter(reason="film-wet", state="waiting").exists()
    taken_back.take_back(fresh(port), rook)
    assert (fresh(port).state, fresh(port).ended_at) == ("under-way", None)
    assert [one[0] for one in left()] == [30.0]
    assert not Laid.objects.exists()
    assert not Hold.objects.filter(planned=False).exists()
    assert Hold.objects.filter(planned=True).count() == 2
    assert set(Notice.objects.values_list("state", flat=True)) == {"dropped"}
    assert "14.5 oz put back into the stores" in HistoryEntry.objects.get(verb="take-back-report").sentence  # fmt: skip
    taken_back.take_back(fresh(port), rook)
    assert (fresh(port).state, Job.objects.get().state) == ("to-do", "agreed")


def test_a_first_coat_taken_back_is_to_be_reported_again(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    reporting.coat_on(fresh(port), rook, posted.at("11:30"), 7)
    taken_back.take_back(fresh(port), rook)
    assert fresh(port).state == "under-way"
    assert [one[0] for one in left()] == [30.0]
    reporting.coat_on(fresh(port), rook, posted.at("11:40"), 8)
    assert units.ml_to_oz(Laid.objects.get().used_ml) == pytest.approx(8)


def test_what_went_out_is_for_the_owner_to_call_about(port, rook):
    reporting.finish(port, rook, posted.at("12:40"))
    Notice.objects.update(state="sent")
    taken_back.take_back(fresh(port), rook)
    asked = HistoryEntry.objects.get(verb="call-by-hand").sentence
    assert "Tell Ames by hand that it is not done" in asked


def test_a_job_that_it_ended_is_in_hand_again(port, rook):
    done = {"state": "done", "ended_at": posted.at("09:00")}
    Stage.objects.filter(job=port.job).exclude(pk=port.pk).update(**done)
    port.followers.all().delete()
    reporting.finish(port, rook, posted.at("12:40"))
    assert Job.objects.get().state == "handed-back"
    taken_back.take_back(fresh(port), rook)
    assert (Job.objects.get().state, Job.objects.get().handed_back_at) == (
        "in-hand",
        None,
    )


def test_a_stage_whose_follower_is_begun_stays_done(port, rook):
    reporting.finish(port, rook, posted.at("12:40"))
    Stage.objects.filter(pk=port.followers.first().stage_id).update(
        state="under-way", started_at=posted.at("12:50")
    )
    with pytest.raises(Refused, match="was begun after it"):
        taken_back.take_back(fresh(port), rook)
    assert fresh(port).state == "done"


def test_another_day_it_is_the_owners_to_mend(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    posted.stand("07:00", posted.MONDAY.replace(day=25))
    assert taken_back.offered(fresh(port)) is None
    with pytest.raises(Refused, match=r"Nothing was reported .* today"):
        taken_back.take_back(fresh(port), rook)
    assert fresh(port).state == "under-way"


def test_nothing_reported_is_nothing_to_take_back(port, rook):
    with pytest.raises(Refused, match="Nothing was reported"):
        taken_back.take_back(port, rook)


def test_who_does_not_ride_there_may_not(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    with pytest.raises(Stranger):
        taken_back.take_back(fresh(port), posted.person("winnie"))
    assert fresh(port).state == "under-way"


def test_cans_that_were_counted_since_stay_as_they_were_counted(port, rook):
    reporting.finish(port, rook, posted.at("12:40"), 14.5)
    port.sheet.counted_at = posted.at("12:50")
    port.sheet.save()
    Can.objects.update(left_ml=units.oz_to_ml(17))
    taken_back.take_back(fresh(port), rook)
    assert [one[0] for one in left()] == [17.0]


def test_all_that_was_reported_goes_to_the_boat_it_was_of(port, other, rook):
    reporting.start(port, rook, posted.at("11:05"))
    reporting.coat_on(fresh(port), rook, posted.at("11:30"), 7)
    reporting.finish(fresh(port), rook, posted.at("12:40"), 8)
    Photo.objects.create(
        boat=port.job.boat,
        file="a.jpeg",
        size_bytes=1,
        words=f"{port.name}: runs",
        taken_at=posted.at("12:30"),
    )
    taken_back.put_to(fresh(port), other, rook)
    assert (fresh(port).state, fresh(port).started_at) == ("to-do", None)
    there = fresh(other)
    assert (there.started_at, there.ended_at) == (
        posted.at("11:05"),
        posted.at("12:40"),
    )
    amounts = there.laid.values_list("coat", "ended_at", "used_ml")
    assert [(coat, at, round(units.ml_to_oz(ml), 2)) for coat, at, ml in amounts] == [
        (1, posted.at("11:30"), 7),
        (2, posted.at("12:40"), 8),
    ]
    assert [one[0] for one in left()] == [15.0]
    assert Photo.objects.get().boat == other.job.boat
    assert set(Hold.objects.filter(planned=False).values_list("stage", flat=True)) == {
        other.pk
    }


def test_it_may_only_be_put_to_a_boat_of_the_day_that_nobody_began(port, other, rook):
    reporting.start(port, rook, posted.at("11:05"))
    reporting.start(other, rook, posted.at("11:10"))
    assert taken_back.offered(fresh(port)).others == ()
    with pytest.raises(Refused, match="begun already"):
        taken_back.put_to(fresh(port), other, rook)
    assert fresh(port).state == "under-way"
