"""A crew that cannot get to a boat: the wait, leaving her for the owner, and what that keeps from her."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from dispatch.actions import begun, ready, reporting, shut_out, snapshot_open
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import (
    Account,
    HistoryEntry,
    Photo,
    Setting,
    ShutOut,
    Stage,
    Week,
)
from tests.actions import pictures, posted

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _kept_here(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def rook():
    return posted.person("rook")


@pytest.fixture
def prep(rook):
    job = posted.sprayed()
    posted.warm(job.boat.place)
    stage = job.stages.get(key="prep")
    posted.judged(stage)
    posted.visit(posted.van_day(rook), stage, "09:00", 120)
    posted.stand("09:12")
    return stage


def fresh(stage):
    return Stage.objects.get(pk=stage.pk)


def left(prep, rook):
    shut_out.wait(prep, rook, posted.at("09:12"))
    posted.stand("09:24")
    return shut_out.leave(prep, rook, posted.at("09:24"))


def test_the_wait_ends_after_ten_minutes_from_when_it_was_told(prep, rook):
    posted.stand("09:40")
    row = shut_out.wait(prep, rook, posted.at("09:12"))
    assert (row.since, row.until) == (posted.at("09:12"), posted.at("09:22"))
    told = HistoryEntry.objects.get(verb="shut-out")
    assert told.sentence == (
        "Rook cannot get to Second Wind since Mon 09:12 and waits until Mon 09:22."
    )
    assert told.by.person == rook


def test_the_wait_is_as_long_as_the_owner_set_it(prep, rook):
    Setting.objects.create(name="crew.gate_wait_minutes", value=25)
    row = shut_out.wait(prep, rook, posted.at("09:12"))
    assert row.until == posted.at("09:37")


def test_meanwhile_she_is_a_wait_with_its_end_and_then_a_choice(prep, rook):
    shut_out.wait(prep, rook, posted.at("09:12"))
    said = ready.of(fresh(prep).visit, posted.at("09:15"))
    assert (said.word, said.until) == ("WAIT", posted.at("09:22"))
    assert "call her owner meanwhile" in said.sentence
    said = ready.of(fresh(prep).visit, posted.at("09:22"))
    assert (said.word, said.until) == ("WAIT", None)
    assert "Go on waiting, or leave her" in said.sentence


def test_it_is_told_once(prep, rook):
    posted.stand("09:13")
    shut_out.wait(prep, rook, posted.at("09:12"))
    with pytest.raises(Stale, match="told already, Mon 09:12"):
        shut_out.wait(prep, rook, posted.at("09:13"))
    assert ShutOut.objects.count() == 1


def test_the_table_holds_one_a_job_until_it_is_over(prep, rook):
    row = shut_out.wait(prep, rook, posted.at("09:12"))
    again = {"job": prep.job, "stage": prep, "person": rook, "since": row.since}
    with pytest.raises(IntegrityError), transaction.atomic():
        ShutOut.objects.create(until=row.until, **again)
    ShutOut.objects.update(over_at=row.until)
    ShutOut.objects.create(until=row.until, **again)


def test_before_the_wait_is_over_nobody_leaves_but_by_the_owner(prep, rook):
    shut_out.wait(prep, rook, posted.at("09:12"))
    posted.stand("09:20")
    with pytest.raises(Refused, match=r"until Mon 09:22, and this is of Mon 09:20"):
        shut_out.leave(prep, rook, posted.at("09:20"))
    orla = posted.person("orla", role=Account.Role.OWNER)
    assert shut_out.leave(prep, orla, posted.at("09:20")).left_at == posted.at("09:20")


def test_going_on_waits_as_long_again(prep, rook):
    shut_out.wait(prep, rook, posted.at("09:12"))
    posted.stand("09:25")
    row = shut_out.go_on(prep, rook, posted.at("09:25"))
    assert row.until == posted.at("09:35")
    with pytest.raises(Refused, match="until Mon 09:35"):
        shut_out.leave(prep, rook, posted.at("09:25"))


def test_a_boat_that_was_left_is_held_for_the_owner(prep, rook):
    left(prep, rook)
    said = ready.of(fresh(prep).visit, posted.at("09:30"))
    assert (said.word, said.until) == ("WAIT", None)
    assert "held for the owner. Ask the owner before you go back" in said.sentence
    told = HistoryEntry.objects.get(verb="leave-shut-out").sentence
    assert told.startswith("Rook waited 12 min and left Second Wind Mon 09:24")
    with pytest.raises(Stale, match="was left Mon 09:24 already"):
        shut_out.leave(prep, rook, posted.at("09:24"))


def test_no_week_plans_her_until_she_can_be_got_to(prep, rook):
    week = Week.objects.get()
    assert prep in snapshot_open.of(week).stages
    left(prep, rook)
    assert snapshot_open.of(week).stages == ()
    ShutOut.objects.update(over_at=posted.at("10:00"))
    assert prep in snapshot_open.of(week).stages


def test_nobody_is_taken_to_be_at_her_once_they_left(prep, rook):
    week = Week.objects.get()
    shut_out.wait(prep, rook, posted.at("09:12"))
    assert [stay.how for one in begun.of(week) for stay in one.stays] == ["as-planned"]
    posted.stand("09:24")
    shut_out.leave(prep, rook, posted.at("09:24"))
    assert [stay for one in begun.of(week) for stay in one.stays] == []
    ShutOut.objects.update(over_at=posted.at("09:30"))
    assert [stay for one in begun.of(week) for stay in one.stays] == []


def test_who_gets_to_her_after_all_starts_and_it_is_over(prep, rook):
    left(prep, rook)
    posted.stand("10:00")
    reporting.start(fresh(prep), rook, posted.at("09:55"))
    assert ShutOut.objects.get().over_at == posted.at("10:00")
    assert ready.of(fresh(prep).visit, posted.at("10:00")).word == "GO"


def test_a_visit_that_is_begun_is_no_locked_gate(prep, rook):
    reporting.start(prep, rook, posted.at("09:05"))
    with pytest.raises(Refused, match="begun already"):
        shut_out.wait(fresh(prep), rook, posted.at("09:12"))


def test_photos_of_the_gate_are_hers(prep, rook):
    with pytest.raises(Refused, match="Nobody waits"):
        shut_out.show(prep, rook, [pictures.jpeg()])
    row = shut_out.wait(prep, rook, posted.at("09:12"))
    with pytest.raises(Refused, match="No photo was chosen"):
        shut_out.show(prep, rook, [])
    kept = shut_out.show(prep, rook, [pictures.jpeg()])
    assert list(row.photos.all()) == kept == list(Photo.objects.all())
    assert kept[0].words == f"{prep.name}: nobody could get to her"


def test_a_moment_that_cannot_be_is_refused(prep, rook):
    with pytest.raises(Refused, match="has not come yet"):
        shut_out.wait(prep, rook, posted.at("09:13"))
    shut_out.wait(prep, rook, posted.at("09:12"))
    orla = posted.person("orla", role=Account.Role.OWNER)
    early = posted.at("09:12") - timedelta(minutes=1)
    with pytest.raises(Refused, match="The wait began Mon 09:12"):
        shut_out.leave(prep, orla, early)


@pytest.mark.parametrize("act", [shut_out.wait, shut_out.go_on, shut_out.leave])
def test_who_does_not_ride_there_may_not(prep, act):
    with pytest.raises(Stranger):
        act(prep, posted.person("winnie"), posted.at("09:12"))
    assert not ShutOut.objects.exists()
