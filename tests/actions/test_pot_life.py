"""Pot life where two-part is mixed: by the sheet at the visit's own warmth, with its cautions; unknown is said."""

import pytest

from dispatch.actions import pot_life, show_why, visit_card
from dispatch.records.models import ForecastHour, Sheet, Stage
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from dispatch.trade.words import Words
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def visit():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    Sheet.objects.update(kind="two-part", pot_life_ref_h=3)
    stage = job.stages.get(key="port")
    return posted.visit(posted.van_day(posted.person("rook")), stage, "11:00", 90)


def told(visit, **changes):
    ForecastHour.objects.update(**changes) if changes else None
    fresh = Stage.objects.select_related("job__boat__place", "sheet").get(
        pk=visit.stage_id
    )
    span = Span(visit.start, visit.end)
    return " ".join(pot_life.lines(fresh, span, Words()))


def test_at_70_degrees_the_sheets_hours_hold_and_the_whole_side_may_be_mixed(visit):
    said = told(visit)
    assert "about 3 h at 70 °F, the warmest of the visit's air (3 h at 70 °F" in said
    assert "at most at a time: all coats of this visit." in said
    assert "the sheet decides" in said


def test_the_warmest_hour_counts_and_less_is_mixed(visit):
    at = posted.at("12:00")
    ForecastHour.objects.filter(at=at).update(air_c=f_to_c(79))
    assert "about 2 h 07 at 79 °F" in told(visit)
    hot = told(visit, air_c=f_to_c(118))
    assert "one coat; mix again for the next" in hot
    stage = Stage.objects.get(pk=visit.stage_id)
    assert pot_life.most(stage, Span(visit.start, visit.end), 28).ml == pytest.approx(
        stage.product_ml / 2
    )


def test_a_warmer_air_that_was_read_there_counts(visit):
    visit.stage.job.boat.readings.create(
        kind="air_c",
        value=f_to_c(88),
        read_at=posted.at("10:30"),
        arrived_at=posted.at("10:30"),
    )
    assert "about 1 h 30 at 88 °F" in told(visit)


@pytest.mark.parametrize("lacks", ["hours", "hour"])
def test_unknown_warmth_is_said_and_no_amount_is_named(visit, lacks):
    if lacks == "hours":
        ForecastHour.objects.all().delete()
    else:
        ForecastHour.objects.filter(at=posted.at("12:00")).update(air_c=None)
    said = told(visit)
    assert "is not known for the hour" in said
    assert "half of that for every 18 °F more" in said
    assert "at most at a time" not in said


def test_a_sheet_without_it_sends_to_the_sheet(visit):
    Sheet.objects.update(pot_life_ref_h=None)
    assert "its pot life is not entered. Read the sheet before you mix." in told(visit)


def test_one_part_has_none(visit):
    Sheet.objects.update(kind="one-part", pot_life_ref_h=None)
    assert told(visit) == ""


def test_the_route_and_the_stages_page_show_it(visit):
    posted.stand("10:50")
    row = type(visit).objects.select_related("stage__sheet", "van_day").get()
    card = visit_card.of(row, [], posted.at("10:50"), Words())
    assert "Pot life" in card.mixing[0]
    why = show_why.why(
        show_why.stage_named("j1.port"), None, Span(visit.start, visit.end)
    )
    assert "Pot life" in why.mixing[0]


def test_it_is_told_in_metric_too(visit):
    stage = Stage.objects.select_related("job__boat__place", "sheet").get(
        pk=visit.stage_id
    )
    span = Span(visit.start, visit.end)
    (said,) = pot_life.lines(stage, span, Words(system="metric"))
    assert "21.1 °C" in said
    assert " ml at most" in said
    assert "°F" not in said
