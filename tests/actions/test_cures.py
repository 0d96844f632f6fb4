"""A snapshot's waits for film: by the hours of its own day and those to come, one span not cut by another's."""

from datetime import timedelta

import pytest

from dispatch.actions.cures import NEVER_MINUTES, Cures
from dispatch.records.models import Stage
from dispatch.trade.spans import Span
from tests.actions import posted

pytestmark = pytest.mark.django_db
LAID = posted.at("12:00")
DONE = Span(LAID, LAID + timedelta(minutes=1))
REF_H, MIN_C = 14, 10


@pytest.fixture
def port():
    job = posted.sprayed()
    posted.warm(job.boat.place, issued=posted.at("06:00"), hours=168)
    posted.stand("18:00")
    return Stage.objects.get(job=job, key="port")


def wait(cures, stage, span):
    """The longest wait of a span, in minutes."""
    return max(row[2] for row in cures.table(stage, span, REF_H, MIN_C))


def test_film_laid_before_the_newest_forecast_begins_is_waited_for(port):
    """Fourteen hours of cure at 70 F throughout, rounded up to 5 minutes."""
    posted.warm(port.job.boat.place, issued=posted.at("18:00"))
    assert wait(Cures(), port, DONE) == 14 * 60


def test_a_short_span_asked_first_does_not_shorten_the_sky_of_a_long_one(port):
    cures, day = Cures(), Span(LAID + timedelta(days=4), LAID + timedelta(days=5))
    assert wait(cures, port, DONE) < NEVER_MINUTES
    assert wait(cures, port, day) == 14 * 60
