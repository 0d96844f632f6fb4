"""A newer forecast marks the visits it forbids, with reason and numbers; none is moved, and unknown is not fine.

The two skies are the demo's: Sunday's forecast holds rain off on Wednesday until 18:00; it came at 14:00.
"""

from datetime import time, timedelta

import pytest

from dispatch.actions import (
    plugins,
    show_board,
    show_route,
    snapshot,
    sweeping,
    visit_sky,
    weather,
)
from dispatch.records.models import Duty, HistoryEntry, Judged, Stage, Visit, WeekPlan
from dispatch.trade.spans import Span
from tests.actions import laid, posted
from tests.trade.lanternglass import WEATHER

pytestmark = pytest.mark.django_db
WEDNESDAY = posted.MONDAY + timedelta(days=2)


def issue(file, issued_at, stage):
    options = {"folder": str(WEATHER), "file": file, "issued_at": issued_at}
    plugins.enable("weather_file", options)
    weather.take_in(stage.job.boat.place)
    sweeping.sweep()


@laid.from_memory
def sunday(stage):
    issue("forecast_issued_sun_1800.csv", "2027-05-23T18:00:00-04:00", stage)
    return stage


def tuesday(stage):
    posted.stand("19:00", WEDNESDAY - timedelta(days=1))
    issue("weather_as_it_happened.csv", "2027-05-25T18:00:00-04:00", stage)


@pytest.fixture
def visit():
    return masked()


@laid.from_memory
def masked():
    """Masking out of doors on Wednesday from 15:00 to 16:15: dry by Sunday's sky, in the rain by Tuesday's."""
    job = posted.sprayed()
    plugins.enable("weather_veto", {})
    day = posted.van_day(posted.person("rook"), day=WEDNESDAY)
    made = posted.visit(day, job.stages.get(key="mask"), "15:00", 75)
    made.refresh_from_db()
    return made


def now(visit):
    return Visit.objects.get(pk=visit.pk)


def test_a_posted_visit_is_not_known_until_it_is_judged(visit):
    assert visit.sky_says == "unknown"


def test_the_sky_it_was_planned_by_allows_it(visit):
    sunday(visit.stage)
    assert (now(visit).sky_says, now(visit).spoilt) == ("allows", "")


def test_rain_that_comes_sooner_forbids_it_with_its_numbers(visit):
    sunday(visit.stage)
    tuesday(visit.stage)
    found = now(visit)
    assert found.sky_says == "forbids"
    assert found.spoilt == "Rain 0.18 in, chance 90 %: needs a chance below 40 %."
    row = HistoryEntry.objects.filter(verb="sky-turned").first()
    assert row.actor == "sky"
    assert row.sentence.startswith(
        "The sky forbids “Mask and drape” on Second Wind, Wed 15:00-16:15. "
    )
    assert found.spoilt in row.sentence


def test_it_is_not_moved(visit):
    sunday(visit.stage)
    tuesday(visit.stage)
    found = now(visit)
    assert (found.start, found.end, found.van_day_id) == (
        visit.start,
        visit.end,
        visit.van_day_id,
    )


def test_the_history_tells_a_turn_once(visit):
    sunday(visit.stage)
    tuesday(visit.stage)
    weather.judge(Stage.objects.get(pk=visit.stage_id))
    assert HistoryEntry.objects.filter(verb="sky-turned").count() == 1


def test_the_history_tells_when_it_is_allowed_again(visit):
    sunday(visit.stage)
    tuesday(visit.stage)
    Stage.objects.get(pk=visit.stage_id).vetoes.all().delete()
    visit_sky.mark(Stage.objects.get(pk=visit.stage_id))
    assert HistoryEntry.objects.filter(verb="sky-turned").first().sentence == (
        "The sky allows “Mask and drape” on Second Wind, Wed 15:00-16:15."
    )


def test_work_that_is_done_keeps_what_was_said_of_it(visit):
    sunday(visit.stage)
    Stage.objects.filter(pk=visit.stage_id).update(
        state="done", ended_at=posted.at("16:00", WEDNESDAY)
    )
    posted.stand("16:05", WEDNESDAY)
    Judged.objects.all().delete()
    visit_sky.mark(Stage.objects.get(pk=visit.stage_id))
    assert now(visit).sky_says == "allows"


def test_a_plugin_that_fails_makes_it_not_known_in_its_own_words(visit):
    sunday(visit.stage)
    Judged.objects.update(fault="weather_veto took more than 5 s")
    visit_sky.mark(Stage.objects.get(pk=visit.stage_id))
    found = now(visit)
    assert found.sky_says == "unknown"
    assert found.spoilt == "Weather_veto took more than 5 s."


def test_hours_the_forecast_leaves_out_make_it_not_known(visit):
    sunday(visit.stage)
    place = visit.stage.job.boat.place
    place.forecasts.get().hours.filter(
        at__gte=posted.at("15:00", WEDNESDAY), at__lt=posted.at("16:00", WEDNESDAY)
    ).update(gust_ms=None)
    weather.judge(Stage.objects.get(pk=visit.stage_id))
    found = now(visit)
    assert found.sky_says == "unknown"
    assert "no forecast for these hours" in found.spoilt.lower()


def test_hours_too_far_after_the_issue_are_only_likely_and_so_not_known(visit):
    sunday(visit.stage)
    far = Span(posted.at("18:00", WEDNESDAY), posted.at("19:00", WEDNESDAY))
    stage = Stage.objects.get(pk=visit.stage_id)
    stage.vetoes.all().delete()
    said = visit_sky.of(stage, far, posted.at("19:00"))
    assert (said.word, said.likely) == ("unknown", True)
    assert "72 h after the forecast was issued" in said.why


def test_the_board_the_text_and_the_route_show_it(visit):
    """The crew's page tells it beside GO, WAIT or NO; the board as a snag, on the strip and in words."""
    sunday(visit.stage)
    Duty.objects.create(
        person=visit.van_day.team.get(), weekday=2, start=time(7), end=time(17)
    )
    plan = WeekPlan.objects.get(state="standing")
    plan.plan = {
        "format": "week-plan/2",
        "van_days": [_van_day(visit)],
        "chosen": {"j1": "as-she-lies"},
        "unplaced": [],
        "cost": {"total": 0},
        "bound": None,
    }
    plan.problem = snapshot.of(plan.week)
    plan.save()
    before = "\n".join(show_board.text(show_board.board(plan)))
    assert "no longer allows" not in before
    tuesday(visit.stage)
    board = show_board.board(plan)
    why = now(visit).spoilt
    assert board.snags[0].sentence.endswith(f"the sky no longer allows it. {why}")
    (row,) = board.boats
    (hands,) = [piece for piece in row.segments if piece.kind == "hands"]
    assert (hands.sky, why in hands.words) == ("forbids", True)
    text = "\n".join(show_board.text(board))
    assert f"Mask and drape, Rook; the sky no longer allows it. {why}" in text
    rider = visit.van_day.team.get()
    (stop,) = show_route.route(rider, WEDNESDAY).stops
    assert (stop.visit.sky_says, stop.visit.spoilt) == ("forbids", why)


def _van_day(visit):
    return {
        "van": "knot",
        "day": 2,
        "team": ["rook"],
        "depart": 2 * 1440 + 420,
        "back": 2 * 1440 + 1020,
        "break": None,
        "stops": [
            {
                "do": "visit",
                "stage": "j1.mask",
                "start": 2 * 1440 + 900,
                "end": 2 * 1440 + 975,
            }
        ],
    }


def test_the_route_goes_by_what_is_known_now_not_by_the_mark(visit):
    sunday(visit.stage)
    posted.stand("19:00", WEDNESDAY - timedelta(days=1))
    posted.warm(visit.stage.job.boat.place, issued=posted.at("06:00"))
    (stop,) = show_route.route(visit.van_day.team.get(), WEDNESDAY).stops
    assert now(visit).sky_says == "allows"
    assert stop.visit.sky_says == "unknown"
    assert "newer forecast" in stop.visit.spoilt
