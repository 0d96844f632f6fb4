"""Many visits whose sky is not known make one snag, so that they hide no other."""

import pytest

from dispatch.actions import board_snags, show_board, weather
from dispatch.actions.board import Snag
from dispatch.records.models import Judged, Stage, Veto, WeekPlan
from tests.actions import plans
from tests.web.owner import test_statements

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]


@pytest.mark.parametrize(("boats", "snags"), [(2, 2), (5, 1)])
def test_one_reason_is_one_sentence_once_it_holds_for_many(boats, snags):
    place = plans.outfit()
    test_statements.fleet(0, boats)
    weather.take_in(place)
    test_statements.week()
    Judged.objects.all().delete()
    board = show_board.board(WeekPlan.objects.get())
    found = [s for s in board.snags if "is not known" in s.sentence]
    assert len(found) == snags
    assert all(s.does == "forecasts" and s.stage for s in found)
    told = found[0].sentence
    assert ("The sky of 5 visits is not known" in told) == (boats == 5)
    assert "a go" in told


def test_forecasts_are_offered_once_for_the_sky_as_a_whole():
    visits, none, boat = (
        Snag(weight=9, subject=one, sentence=".", mend="Get them.", does="forecasts")
        for one in ("Sky", "Sky", "Second Wind")
    )
    found = list(board_snags.offered_once((visits, none, boat)))
    assert [(one.does, one.mend != "") for one in found] == [
        ("forecasts", True),
        ("", False),
        ("forecasts", True),
    ]


@pytest.mark.parametrize(("boats", "alone", "together"), [(4, 4, 0), (7, 3, 1)])
def test_a_foul_week_leaves_room_for_other_snags(boats, alone, together):
    place = plans.outfit()
    test_statements.fleet(0, boats)
    weather.take_in(place)
    test_statements.week()
    span = show_board.board(WeekPlan.objects.get()).day_spans
    for stage in Stage.objects.all():
        Veto.objects.create(
            stage=stage,
            plugin="weather_veto",
            edge="during",
            start=span[0].start,
            end=span[-1].end,
            code="rain",
            sentence="Rain 0.2 in an hour.",
            strength="owner",
        )
    board = show_board.board(WeekPlan.objects.get())
    single = [s for s in board.snags if "the sky no longer allows it" in s.sentence]
    others = [s for s in board.snags if "not allowed by the sky either" in s.sentence]
    assert (len(single), len(others)) == (alone, together)
    assert all("Rain 0.2 in" in s.sentence for s in single)
    if others:
        told = others[0].sentence
        visits = len(WeekPlan.objects.get().problem["stages"])
        assert f"{visits - alone} later visits" in told
        assert others[0].anew
