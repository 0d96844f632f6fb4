"""Two sources at many places, two real workers: every place is asked once of each, every stage judged once by both."""

import threading

import pytest

from dispatch.actions import book, plugins, weather
from dispatch.records.models import (
    Customer,
    DueWork,
    Forecast,
    JobKind,
    Judged,
    PluginState,
)
from tests.actions import shop
from tests.hooks import loopback
from tests.plugins import sky_shapes
from tests.plugins.asks import DEMO_SKY

pytestmark = [pytest.mark.services, pytest.mark.timeout(180)]
PLACES = 8


@pytest.fixture
def server():
    with loopback.running() as running:
        sky_shapes.serve(running, DEMO_SKY)
        yield running


@pytest.fixture
def book_of_boats(transactional_db):
    """A boat to be washed at each of eight places that one service knows."""
    shop.outfit()
    shop.catalogue()
    kind = JobKind.objects.get(key="wash")
    for number in range(PLACES):
        place = shop.driveway(
            key=f"p{number}", name=f"Pier {number}", latitude=44.1, longitude=-69.1
        )
        boat = shop.boat(place, key=f"b{number}", name=f"Boat {number}")
        book.take_job(key=f"j{number}", boat=boat, kind=kind)
    assert Customer.objects.count() == PLACES


def settled(seconds=120):
    tick = threading.Event()
    for _ in range(seconds * 4):
        if not DueWork.objects.filter(done_at=None).exists():
            return
        tick.wait(0.25)
    pytest.fail("The workers did not do it in time.")


def rows(verb):
    return DueWork.objects.filter(verb=verb)


def test_a_burst_of_two_sources_judges_every_stage_once(start, book_of_boats, server):
    columns = {"address": server.address + sky_shapes.COLUMNS}
    plugins.enable("weather_columnar", columns)
    plugins.enable("weather_gridpoint", {"address": server.address})
    plugins.enable("weather_veto", {})
    DueWork.objects.all().delete()
    with start(beat=True):
        assert weather.ask_later() == PLACES
        settled()
    assert not list(
        PluginState.objects.exclude(last_fault="").values("name", "last_fault")
    )
    assert Forecast.objects.count() == 2 * PLACES
    assert rows("take-in-forecast").count() == PLACES
    assert rows("judge-stage").count() == Judged.objects.count() == PLACES
    assert not DueWork.objects.filter(attempts__gt=1).exists()
    assert not DueWork.objects.exclude(fault="").exists()
    asked = [path.partition("?")[0] for path, _ in server.asked]
    assert asked.count(sky_shapes.COLUMNS) == PLACES
    assert asked.count(sky_shapes.GRID) == PLACES
