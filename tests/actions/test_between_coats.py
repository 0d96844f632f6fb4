"""The wait between two coats at the hour's own warmth: 25 min at 70 F, doubled by every 18 F less, from 15 to 60.

The minutes are the demo sheet's; the doubling is the rule of its cure clock, worked by hand here.
"""

import pytest

from dispatch.actions import between_coats, show_board, visit_card
from dispatch.records.models import ForecastHour, Outfit, Place, Stage, Visit, WeekPlan
from dispatch.trade.spans import Span
from dispatch.trade.units import f_to_c
from dispatch.trade.words import Words
from tests.actions import plans, posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def visit():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    stage = job.stages.get(key="port")
    day = posted.van_day(posted.person("rook", "spray-1"))
    return posted.visit(day, stage, "11:00", 90)


def told(visit):
    fresh = Stage.objects.select_related("job__boat__place", "sheet")
    stage = fresh.get(pk=visit.stage_id)
    return " ".join(between_coats.lines(stage, Span(visit.start, visit.end), Words()))


# 70 F: 25 min. 52 F: 50 min. 88 F: 12.5, but 15 at the least. 34 F: 100, but 60 at the most.
@pytest.mark.parametrize(("air_f", "minutes"), [(70, 25), (52, 50), (88, 15), (34, 60)])
def test_the_crew_is_told_the_wait_by_the_hulls_own_warmth(visit, air_f, minutes):
    ForecastHour.objects.update(air_c=f_to_c(air_f), cloud_pct=100)
    assert f"Wait {minutes} min between the coats at {air_f} °F" in told(visit)


def test_the_coldest_hour_counts(visit):
    ForecastHour.objects.filter(at=posted.at("12:00")).update(air_c=f_to_c(52))
    assert "Wait 50 min between the coats at 52 °F, the coldest" in told(visit)


@pytest.mark.parametrize("lacks", ["hours", "hour"])
def test_unknown_warmth_is_said_with_the_sheets_own_minutes(visit, lacks):
    rows = ForecastHour.objects.all()
    if lacks == "hours":
        rows.delete()
    else:
        rows.filter(at=posted.at("12:00")).update(air_c=None)
    assert "not known for the hour" in told(visit)
    assert "25 min at 70 °F by the sheet of Lanternglass One" in told(visit)


def test_one_coat_waits_for_nothing(visit):
    Stage.objects.update(flashes=0)
    assert told(visit) == ""


def test_it_stands_on_the_crews_card(visit):
    card = visit_card.of(
        Visit.objects.select_related("stage__job__boat__place").get(),
        list(visit.van_day.team.all()),
        posted.stand("09:00"),
        Words(),
    )
    assert any("between the coats at 70 °F" in line for line in card.mixing)


@pytest.fixture
def draft():
    plans.coat(plans.outfit())
    ForecastHour.objects.update(air_c=f_to_c(70), cloud_pct=100)
    visit = [("j1.port-as-she-lies", "11:00", "13:00")]
    return plans.draft([(25, "10:30", "13:30", visit)])


def snags(draft):
    found = show_board.board(draft).snags
    return [one for one in found if "the coats wait" in one.sentence]


def test_a_visit_planned_too_short_for_the_cold_is_a_snag_with_its_numbers(draft):
    """At 52 F 50 min, planned with 25 as the week was to be 70 F: 25 minutes later than 13:00."""
    assert snags(draft) == []
    ForecastHour.objects.update(air_c=f_to_c(52))
    (one,) = snags(draft)
    assert one.subject == "Second Wind"
    assert "at 52 °F the coats wait 50 min, planned 25." in one.sentence
    assert "She is done Tue 13:25, 25 min later than planned." in one.sentence


@pytest.mark.parametrize("kept", [{}, {"waits": {}}])
def test_a_week_built_before_waits_were_kept_says_so_and_never_nought(draft, kept):
    plan = WeekPlan.objects.get(pk=draft.pk)
    for row in plan.problem["stages"]:
        row.pop("waits", None)
        row.update(kept)
    plan.save(update_fields=["problem"])
    (one,) = snags(plan)
    assert "at 70 °F the coats wait 25 min, planned not known" in one.sentence
    assert "when she is done is not known" in one.sentence
    assert "planned 0" not in one.sentence
    assert one.mend.startswith("Plan the rest anew")


def test_a_metric_outfit_reads_celsius(draft):
    ForecastHour.objects.update(air_c=11.1)
    Outfit.objects.update(units="metric")
    Place.objects.update(day_offset_k=0, night_offset_k=0)
    assert "at 11.1 °C the coats wait 50 min" in snags(draft)[0].sentence
