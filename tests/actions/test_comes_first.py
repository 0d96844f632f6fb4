"""What must be done, and set, before a visit may start."""

from datetime import timedelta

import pytest

from dispatch.actions import comes_first
from dispatch.records.models import Stage
from tests.actions import posted

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    made = posted.sprayed()
    posted.warm(made.boat.place)
    posted.stand("10:00")
    return made


def done(job, key, clock):
    Stage.objects.filter(job=job, key=key).update(
        state="done", ended_at=posted.at(clock)
    )


def held(job, key, clock, now="10:00"):
    return comes_first.of(job.stages.get(key=key), posted.at(clock), posted.at(now))


def test_what_comes_before_and_is_not_done_holds_it(job):
    found = held(job, "mask", "10:00")
    assert found.until is None
    assert "comes first and is not reported done" in found.sentence


def test_ahead_of_the_day_the_posted_order_is_trusted(job):
    day = posted.van_day(posted.person("rook"))
    posted.visit(day, job.stages.get(key="prep"), "07:30", 120)
    assert held(job, "mask", "10:00", now="07:00") is None
    assert held(job, "mask", "09:00", now="07:00") is not None
    assert held(job, "mask", "10:00", now="09:31") is not None


def test_masking_left_for_more_than_8_hours_is_done_again(job):
    done(job, "mask", "07:30")
    assert held(job, "port", "15:30") is None
    found = held(job, "port", "15:31")
    assert found.never
    assert "within 8 h" in found.sentence


def test_film_holds_the_sanding_until_it_is_hard(job):
    """14 h of cure at 70 F, by the sheet, on a hull at 70 F: 14 h by the clock."""
    for key in ("port", "starboard", "ends"):
        done(job, key, "10:00")
    found = held(job, "finish", "12:00")
    late = posted.at("10:00") + timedelta(hours=14)
    assert abs(found.until - late) < timedelta(minutes=30)
    assert held(job, "finish", "23:59", now="23:59") is not None


def test_film_that_no_forecast_reaches_back_to_is_not_known_to_be_hard(job):
    job.boat.place.forecasts.all().delete()
    for key in ("port", "starboard", "ends"):
        done(job, key, "10:00")
    found = held(job, "finish", "23:00", now="23:00")
    assert (found.until, found.never) == (None, False)
    assert "not known by this forecast" in found.sentence


def test_ways_that_are_not_taken_hold_nothing(job):
    port = job.stages.get(key="port")
    other = Stage.objects.create(
        job=job, key="port-roofed", name="Roofed", position=90, variant="roofed"
    )
    Stage.objects.filter(pk=port.pk).update(variant="plain")
    job.stages.get(key="finish").links.create(before=other)
    done(job, "port", "08:00")
    befores = {
        link.before.key for link in comes_first.links(job.stages.get(key="finish"))
    }
    assert "port-roofed" not in befores
    assert "port" in befores
