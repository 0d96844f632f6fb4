"""GO, WAIT or NO: unknown, unfinished and too old are never GO."""

from datetime import timedelta

import pytest

from dispatch.actions import ready
from dispatch.records.models import Judged, Stage
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db
GUST = "gust 21 mph, limit 14 mph"


@pytest.fixture
def visit():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    day = posted.van_day(posted.person("rook"))
    return posted.visit(day, job.stages.get(key="prep"), "09:00", 120)


def asked(visit, clock="07:00"):
    visit.refresh_from_db()
    return ready.of(visit, posted.stand(clock))


def test_nothing_against_it_is_go_with_the_hours_asked_about(visit):
    posted.judged(visit.stage)
    said = asked(visit)
    assert said.word == "GO"
    assert "from 09:00 to 11:00" in said.sentence
    assert "No limit we know of" in said.sentence


def test_go_names_the_limit_that_comes_next(visit):
    posted.judged(visit.stage, ("13:00", "19:00", GUST))
    assert f"From 13:00: {GUST}" in asked(visit).sentence


def test_a_limit_broken_now_waits_until_the_visit_fits_after_it(visit):
    posted.judged(visit.stage, ("08:00", "10:30", GUST))
    said = asked(visit)
    assert (said.word, said.until, said.sentence) == (
        "WAIT",
        posted.at("10:30"),
        GUST,
    )


def test_a_gap_shorter_than_the_visit_is_no_answer(visit):
    posted.judged(visit.stage, ("08:00", "10:30", GUST), ("12:00", "23:00", GUST))
    assert asked(visit).word == "NO"


def test_nobody_judged_it_so_it_is_not_go(visit):
    said = asked(visit)
    assert (said.word, said.until) == ("WAIT", None)
    assert "Not known, so not go" in said.sentence


def test_a_plugin_that_failed_leaves_it_unknown_in_its_own_words(visit):
    posted.judged(visit.stage, fault="weather_veto took more than 5 s")
    said = asked(visit)
    assert said.word == "WAIT"
    assert "took more than 5 s" in said.sentence


def test_a_judgement_that_ends_too_early_is_not_go(visit):
    posted.judged(visit.stage, until=posted.at("10:00"))
    assert asked(visit).word == "WAIT"


def test_a_judgement_that_ends_with_the_visit_opens_nothing_after_it(visit):
    posted.judged(visit.stage, ("09:00", "09:30", GUST), until=posted.at("11:00"))
    said = asked(visit)
    assert (said.word, said.until) == ("NO", None)


def test_a_newer_forecast_that_nobody_judged_by_is_not_go(visit):
    posted.judged(visit.stage)
    posted.warm(visit.stage.job.boat.place, issued=shop.NOW + timedelta(hours=2))
    assert "newer forecast" in asked(visit).sentence


def test_72_hours_after_its_issue_a_forecast_is_only_likely(visit):
    posted.judged(visit.stage)
    Judged.objects.update(until=shop.NOW + timedelta(days=30))
    thursday = posted.MONDAY + timedelta(days=3)
    said = ready.of(visit, posted.stand("09:00", thursday))
    assert said.word == "WAIT"
    assert "only likely" in said.sentence


def test_outside_the_places_hours_it_says_the_hours(visit):
    posted.judged(visit.stage)
    said = asked(visit, "17:30")
    assert said.word == "NO"
    assert "17:30 to 19:00 today; 17:30 to 19:30 does not fit" in said.sentence


def test_work_under_way_is_asked_for_what_is_left_of_it(visit):
    posted.judged(visit.stage, ("11:00", "19:00", GUST))
    Stage.objects.filter(pk=visit.stage.pk).update(
        state="under-way", started_at=posted.at("09:00")
    )
    visit.stage.refresh_from_db()
    assert ready.of(visit, posted.stand("10:00")).word == "GO"
    assert ready.of(visit, posted.stand("11:10")).word == "NO"


def test_only_a_wait_ends():
    with pytest.raises(ValueError, match="Only a wait ends"):
        ready.Ready(word="GO", at=shop.NOW, until=shop.NOW, sentence="")
