"""Film goes by every hour's own temperature: those gone by from the forecast of their day, those to come from the newest."""

from datetime import timedelta

import pytest

from dispatch.actions import facts, holds
from dispatch.records.models import Stage
from dispatch.trade.spans import Span
from tests.actions import posted

pytestmark = pytest.mark.django_db
LAID = posted.at("12:00")
# 14 hours at 70 F, by the sheet; at 52 F, 18 F less, the rate is half (worked by hand from the rate's own rule).
REF_H = 14


@pytest.fixture
def port():
    job = posted.sprayed()
    posted.warm(job.boat.place, issued=posted.at("06:00"))
    posted.stand("13:00")
    return Stage.objects.get(job=job, key="port")


def newer(stage, clock, air_c, **hours):
    issued = posted.at(clock)
    made = posted.warm(stage.job.boat.place, issued=issued, **hours)
    made.hours.update(air_c=air_c)
    posted.stand(clock)
    return made


def sets(stage):
    return holds.sets(stage, LAID, REF_H).expected


def test_film_laid_before_the_newest_forecast_begins_still_sets_by_it(port):
    """Six hours at the full rate are gained by 18:00; the eight left take sixteen at half the rate: Tuesday 10:00."""
    assert abs(sets(port) - (LAID + timedelta(hours=14))) < timedelta(minutes=2)
    newer(port, "18:00", 11.1111111111)
    due = posted.at("10:00", posted.MONDAY + timedelta(days=1))
    assert abs(sets(port) - due) < timedelta(minutes=5)


def test_an_hour_the_newest_forecast_leaves_out_gains_nothing(port):
    newer(port, "18:00", 21.1111111111).hours.filter(
        at__gte=posted.at("20:00"), at__lt=posted.at("22:00")
    ).delete()
    assert abs(sets(port) - (LAID + timedelta(hours=16))) < timedelta(minutes=2)


def test_film_no_forecast_reaches_back_to_has_no_time(port):
    port.job.boat.place.forecasts.all().delete()
    newer(port, "18:00", 21.1111111111)
    assert holds.sets(port, LAID, REF_H) is None


def test_hours_are_told_once_each_in_order(port):
    newer(port, "18:00", 11.1111111111)
    horizon = Span(LAID, LAID + timedelta(hours=12))
    sky = facts.sky_so_far(port.job.boat.place, posted.at("18:00"), horizon)
    moments = [hour.at for hour in sky.hours]
    assert moments == [LAID + timedelta(hours=hour) for hour in range(-1, 12)]
    assert sky.issued_at == posted.at("18:00")
