"""What the crew did as they were sent, told after the owner has moved it: both are kept, and what was done stands."""

from datetime import timedelta

import pytest

from dispatch.actions import reporting
from dispatch.actions.errors import Stale, Stranger
from dispatch.records.models import HistoryEntry, Stage, VanDay, Visit
from tests.actions import posted

pytestmark = pytest.mark.django_db
TUESDAY = posted.MONDAY + timedelta(days=1)


@pytest.fixture
def job():
    made = posted.sprayed()
    posted.warm(made.boat.place)
    return made


@pytest.fixture
def rook():
    return posted.person("rook")


def stage(job, name):
    return Stage.objects.get(job=job, key=name)


@pytest.fixture
def moved(job, rook):
    """Monday's port side stands; starboard and transom were moved to Tuesday and to somebody else at noon."""
    monday = posted.van_day(rook)
    posted.visit(monday, stage(job, "port"), "09:30", 100)
    tuesday = posted.van_day(posted.person("dov"), day=TUESDAY)
    posted.visit(tuesday, stage(job, "starboard"), "09:00", 80)
    posted.visit(tuesday, stage(job, "ends"), "10:30", 80)
    posted.was_sent(
        monday.plan,
        (rook,),
        (stage(job, "port"), "09:30", "11:10"),
        (stage(job, "starboard"), "11:10", "12:30"),
        (stage(job, "ends"), "12:30", "13:50"),
    )
    posted.stand("15:00")
    return monday


def test_what_was_done_wins_and_what_was_not_stays_moved(job, rook, moved):
    reporting.finish(stage(job, "port"), rook, posted.at("11:10"))
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    for name, ended in (("port", "11:10"), ("starboard", "12:30")):
        done = stage(job, name)
        assert (done.state, done.ended_at) == ("done", posted.at(ended))
        assert done.visit.van_day == moved
    last = stage(job, "ends")
    assert (last.state, last.visit.van_day.on) == ("to-do", TUESDAY)
    lines = HistoryEntry.objects.filter(verb="done-as-sent")
    assert [row.sentence for row in lines] == [
        f"Rook tells of {stage(job, 'starboard').name} on {job.boat.name} as it was posted before, Mon 11:10; "
        "since then it had been put to Tue 09:00 with Knot. What was done stands."
    ]


def test_the_film_sets_from_when_it_was_laid(job, rook, moved):
    """Four hours to rain-safe at 70 F, by the sheet, on a hull at 70 F throughout."""
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    hold = stage(job, "starboard").holds.get(kind="rain-safe")
    assert hold.end == posted.at("16:30")


def test_what_is_told_twice_is_taken_once(job, rook, moved):
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    with pytest.raises(Stale, match="reported done at Mon 12:30 already"):
        reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    assert HistoryEntry.objects.filter(verb="done-as-sent").count() == 1
    assert Visit.objects.filter(stage=stage(job, "starboard")).count() == 1


def test_a_start_told_late_puts_the_visit_back_too(job, rook, moved):
    reporting.start(stage(job, "starboard"), rook, posted.at("11:12"))
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    done = stage(job, "starboard")
    assert (done.started_at, done.visit.van_day) == (posted.at("11:12"), moved)
    assert HistoryEntry.objects.filter(verb="done-as-sent").count() == 1


def test_work_that_was_left_out_meanwhile_has_its_visit_again(job, rook, moved):
    Visit.objects.filter(stage=stage(job, "starboard")).delete()
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    assert stage(job, "starboard").visit.van_day == moved
    line = HistoryEntry.objects.get(verb="done-as-sent")
    assert "since then it had been left out" in line.sentence


def test_a_day_taken_off_whole_stands_again_with_who_rode(job, rook, moved):
    VanDay.objects.filter(pk=moved.pk).delete()
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    day = stage(job, "starboard").visit.van_day
    assert (day.on, day.van.key, day.depart) == (
        posted.MONDAY,
        "knot",
        posted.at("07:00"),
    )
    assert list(day.team.all()) == [rook]


def test_a_van_day_with_nothing_left_to_do_goes(job, rook, moved):
    Visit.objects.filter(stage=stage(job, "ends")).delete()
    reporting.finish(stage(job, "starboard"), rook, posted.at("12:30"))
    assert not VanDay.objects.filter(on=TUESDAY).exists()


def test_somebody_who_was_not_sent_may_not_tell_of_it(job, moved):
    other = posted.person("maeve")
    with pytest.raises(Stranger, match="Only the people of van Knot that day"):
        reporting.finish(stage(job, "starboard"), other, posted.at("12:30"))
    assert stage(job, "starboard").visit.van_day.on == TUESDAY


def test_the_team_it_was_moved_to_tells_of_it_as_ever(job, moved):
    dov = VanDay.objects.get(on=TUESDAY).team.get()
    posted.stand("12:00", TUESDAY)
    reporting.finish(stage(job, "starboard"), dov, posted.at("10:20", TUESDAY))
    assert stage(job, "starboard").visit.van_day.on == TUESDAY
    assert not HistoryEntry.objects.filter(verb="done-as-sent").exists()
