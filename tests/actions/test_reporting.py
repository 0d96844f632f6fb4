"""Started, finished: when it happened, by who was there, once."""

from datetime import timedelta

import pytest

from dispatch.actions import reporting
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.records.models import HistoryEntry, Hold, Stage
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    made = posted.sprayed()
    posted.warm(made.boat.place)
    return made


@pytest.fixture
def rook(job):
    rider = posted.person("rook")
    posted.visit(posted.van_day(rider), job.stages.get(key="port"), "11:00", 90)
    posted.stand("13:00")
    return rider


@pytest.fixture
def port(job, rook):
    return job.stages.get(key="port")


def fresh(stage):
    return Stage.objects.get(pk=stage.pk)


def test_a_start_is_kept_as_when_it_happened(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    assert (fresh(port).state, fresh(port).started_at) == (
        "under-way",
        posted.at("11:05"),
    )
    assert fresh(port).job.state == "in-hand"


def test_what_was_said_of_the_sky_is_kept_beside_it(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    entry = HistoryEntry.objects.get(verb="start-stage")
    assert entry.by.person == rook
    assert "Mon 11:05" in entry.sentence
    assert entry.why.startswith("WAIT: ")


def test_a_finish_sets_the_film_from_its_actual_end(port, rook):
    """Four and fourteen hours of cure at 70 F, by the sheet, on a hull at 70 F throughout."""
    reporting.finish(port, rook, posted.at("12:40"))
    assert fresh(port).state == "done"
    for kind, hours in (("rain-safe", 4), ("sandable", 14)):
        hold = Hold.objects.get(stage=port, kind=kind)
        assert (hold.planned, hold.start) == (False, posted.at("12:40"))
        due = posted.at("12:40") + timedelta(hours=hours)
        assert abs(hold.end - due) < timedelta(minutes=2)
        assert hold.earliest < hold.end < hold.latest


def test_a_planned_hold_gives_way_to_the_actual_one(port, rook):
    Hold.objects.create(
        stage=port, kind="sandable", planned=True, start=posted.at("12:30")
    )
    reporting.finish(port, rook, posted.at("12:40"))
    assert not Hold.objects.filter(planned=True).exists()


def test_film_that_no_forecast_reaches_has_no_end(port, rook, job):
    job.boat.place.forecasts.all().delete()
    reporting.finish(port, rook, posted.at("12:40"))
    assert set(Hold.objects.values_list("end", flat=True)) == {None}


@pytest.mark.parametrize("act", [reporting.start, reporting.finish])
def test_what_has_not_happened_yet_is_refused_with_both_times(act, port, rook):
    with pytest.raises(Refused, match=r"Mon 13:01 has not come yet; it is Mon 13:00"):
        act(port, rook, posted.at("13:01"))
    assert fresh(port).state == "to-do"


def test_what_is_long_past_is_refused(port, rook):
    with pytest.raises(Refused, match="more than 7 days ago"):
        reporting.start(port, rook, posted.at("13:00") - timedelta(days=8))


def test_the_end_cannot_come_before_the_start(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    with pytest.raises(Refused, match="Check the times"):
        reporting.finish(port, rook, posted.at("11:00"))
    assert fresh(port).state == "under-way"
    assert not Hold.objects.exists()


def test_the_same_report_twice_changes_nothing(port, rook):
    reporting.start(port, rook, posted.at("11:05"))
    with pytest.raises(Stale, match=r"started at Mon 11:05 already"):
        reporting.start(port, rook, posted.at("11:10"))
    reporting.finish(port, rook, posted.at("12:40"))
    with pytest.raises(Stale, match=r"done at Mon 12:40 already"):
        reporting.finish(port, rook, posted.at("12:50"))
    assert fresh(port).ended_at == posted.at("12:40")
    assert HistoryEntry.objects.filter(verb="finish-stage").count() == 1


def test_who_does_not_ride_in_that_van_that_day_may_not(port, rook):
    stranger = posted.person("winnie")
    for act in (reporting.start, reporting.finish):
        with pytest.raises(Stranger, match="van Knot that day"):
            act(port, stranger, posted.at("12:00"))
    assert fresh(port).state == "to-do"


def test_the_owner_may(port, rook):
    reporting.start(port, posted.person("orla", role="owner"), posted.at("11:05"))
    assert fresh(port).state == "under-way"


def test_a_stage_of_no_posted_week_is_refused(job, rook):
    owner = posted.person("orla", role="owner")
    with pytest.raises(Refused, match="in no posted week"):
        reporting.start(job.stages.get(key="mask"), owner, posted.at("12:00"))
    with pytest.raises(Stranger):
        reporting.start(job.stages.get(key="mask"), rook, posted.at("12:00"))


def test_ounces_are_kept_beside_what_was_planned(port, rook):
    reporting.finish(port, rook, posted.at("12:40"), 14.5)
    said = HistoryEntry.objects.get(verb="use-product").sentence
    assert "took 14.5 oz of Lanternglass One; planned" in said


@pytest.mark.parametrize("ounces", [-1, 5000, float("nan")])
def test_an_amount_that_cannot_be_right_is_refused_whole(port, rook, ounces):
    with pytest.raises(Refused, match="cannot be right"):
        reporting.finish(port, rook, posted.at("12:40"), ounces)
    assert fresh(port).state == "to-do"


def test_ounces_of_work_that_lays_none_are_refused(job, rook):
    mask = job.stages.get(key="mask")
    posted.visit(rook.van_days.get(), mask, "08:00")
    with pytest.raises(Refused, match="lays no product"):
        reporting.finish(mask, rook, posted.at("09:00"), 2)
