"""A second coat that comes too late: the card says until when, by the sheet and the cure clock.

The demo week, one-part, 6 hours at 70 F at the latest: coat 1 on Wednesday at 11:00 ends at 21:16, worked out by a
script that shares no code with the house; told by the warmer end of the forecast, so not later than that.
"""

from datetime import timedelta

import pytest

from dispatch.actions import holds, plugins, visit_card
from dispatch.records.models import Forecast, Outfit, Stage, Visit
from dispatch.trade.words import Words
from tests.actions import plans, posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def visit():
    place = plans.outfit()
    happened = plans.FORECAST | {"file": "weather_as_it_happened.csv"}
    plugins.enable("weather_file", happened)
    job = plans.coat(place)
    Outfit.objects.update(stands_at=plans.at(26, "11:00"))
    # A fresh one: an old one leaves less time, on the safe side.
    Forecast.objects.update(issued_at=plans.at(26, "10:00"))
    day = posted.van_day(
        posted.Person.objects.get(key="rook"), day=plans.at(26, "08:00").date()
    )
    stage = job.stages.get(key="port-as-she-lies")
    made = posted.visit(day, stage, "11:00", 90)
    Stage.objects.filter(pk=stage.pk).update(
        state="under-way", started_at=plans.at(26, "11:00")
    )
    return made


def film(visit) -> str:
    row = Visit.objects.select_related("stage__sheet", "van_day").get(pk=visit.pk)
    return " ".join(visit_card.of(row, [], plans.at(26, "11:00"), Words()).film)


def test_six_hours_of_cure_after_the_first_coat_is_the_latest(visit):
    times = holds.sets(visit.stage, plans.at(26, "11:00"), 6)
    assert abs(times.expected - plans.at(26, "21:16")) <= timedelta(minutes=10)
    assert times.earliest <= times.expected
    told = film(visit)
    assert "Second coat by Wed 2" in told
    assert "lay both coats again on that side" in told


def test_before_it_is_begun_and_once_it_is_done_nothing_is_said(visit):
    Stage.objects.filter(pk=visit.stage.pk).update(state="to-do", started_at=None)
    assert "Second coat" not in film(visit)


def test_without_a_forecast_the_time_is_not_known(visit):
    visit.stage.job.boat.place.forecasts.all().delete()
    assert "Second coat by a time not known" in film(visit)
