"""Which boat to go to where the crew cannot get to hers: near, and only what may be begun as far as is known."""

from datetime import timedelta

import pytest

from dispatch.actions import book, next_boat, snapshot_gear
from dispatch.records.models import Equipment, Place, Tow, Veto
from tests.actions import posted, shop

pytestmark = pytest.mark.django_db
NOW = "09:24"


@pytest.fixture
def visit():
    job = posted.sprayed()
    posted.warm(job.boat.place)
    day = posted.van_day(posted.person("rook"))
    return posted.visit(day, job.stages.get(key="prep"), "09:00", 120)


def another(visit, key, start, *, place=None, **lies):
    """A boat of the same route that lies elsewhere, at a place all of whose sky is judged."""
    where = place or shop.driveway(key=f"at-{key}", name=f"Lane of {key}", **lies)
    if not where.forecasts.exists():
        posted.warm(where)
    hull = shop.boat(where, key=key, name=key.title())
    job = book.take_job(key=f"j-{key}", boat=hull, kind=visit.stage.job.kind, sheet=visit.stage.job.sheet)  # fmt: skip
    stage = job.stages.get(key="prep")
    posted.judged(stage)
    return posted.visit(visit.van_day, stage, start, 120)


def near(visit):
    return next_boat.near(visit, posted.stand(NOW))


def test_the_nearest_that_may_be_begun_comes_first_with_its_drive(visit):
    another(visit, "far", "11:30", latitude=44.30)
    close = another(visit, "close", "14:00", latitude=44.14)
    found = near(visit)
    assert [one.boat for one in found] == ["Close", "Far"]
    here, there = visit.stage.job.boat.place, close.stage.job.boat.place
    minutes = snapshot_gear.drives([here, there])["drive_min"][0][1]
    assert found[0].drive_minutes == minutes > 0
    assert found[0].begins == posted.at(NOW) + timedelta(minutes=minutes)
    assert found[0].planned == posted.at("14:00")
    assert "No limit we know of is broken" in found[0].sentence


def test_a_sky_that_says_no_or_nothing_names_no_boat(visit):
    gusty = another(visit, "gusty", "14:00")
    Veto.objects.create(stage=gusty.stage, plugin="weather_veto", edge="during", start=posted.at("09:00"), end=posted.at("13:00"), code="wind", sentence="gust 33 mph, limit 32 mph", strength="wall")  # fmt: skip
    unknown = another(visit, "unknown", "15:00")
    unknown.stage.judged.all().delete()
    assert near(visit) == ()


def test_work_whose_film_or_stage_before_is_not_ready_is_not_named(visit):
    later = another(visit, "curlew", "14:00")
    later.stage = later.stage.job.stages.get(key="port")
    later.save()
    posted.judged(later.stage)
    assert near(visit) == ()


def test_a_place_that_is_shut_then_is_not_named(visit):
    shut = another(visit, "shut", "14:00").stage.job.boat.place
    shut.access_hours.all().delete()
    assert near(visit) == ()


def test_the_same_gate_is_shut_to_all_behind_it(visit):
    another(visit, "beside", "14:00", place=visit.stage.job.boat.place)
    assert near(visit) == ()


def test_what_is_held_to_a_minute_or_must_be_brought_something_waits(visit):
    held = another(visit, "lifted", "14:00")
    held.stage.fixed_start = posted.at("14:00")
    held.stage.save()
    assert near(visit) == ()
    held.stage.fixed_start = None
    held.stage.equipment = [{"kind": "screens", "until": "visit"}]
    held.stage.save()
    assert [one.boat for one in near(visit)] == ["Lifted"]
    base = Place.objects.get(key="s0")
    shed = Equipment.objects.create(
        key="shed", name="The Shed", kind="screens", towed=True
    )
    Tow.objects.create(van_day=visit.van_day, equipment=shed, origin=base, destination=held.stage.job.boat.place, start=posted.at("12:00"), end=posted.at("12:40"))  # fmt: skip
    assert near(visit) == ()


def test_what_is_done_or_begun_is_not_named(visit):
    done = another(visit, "done", "14:00").stage
    type(done).objects.filter(pk=done.pk).update(state="under-way")
    assert near(visit) == ()
