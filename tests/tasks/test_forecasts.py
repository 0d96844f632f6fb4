"""A real worker asks a service of forecasts through the guard, and one that hangs keeps nobody."""

import threading

import pytest

from dispatch.actions import due, plugins
from dispatch.records.models import DueWork, Forecast, PluginState
from dispatch.tasks.sweep import sweep
from tests.actions import shop
from tests.hooks import loopback
from tests.hooks.loopback import Reply
from tests.plugins import sky_shapes
from tests.plugins.asks import DEMO_SKY

pytestmark = [pytest.mark.services, pytest.mark.timeout(120)]


@pytest.fixture
def place(transactional_db):
    shop.outfit()
    return shop.driveway(latitude=44.1, longitude=-69.1)


@pytest.fixture
def server():
    with loopback.running() as running:
        sky_shapes.serve(running, DEMO_SKY)
        yield running


def until(ready, seconds=60):
    tick = threading.Event()
    for _ in range(seconds * 4):
        if ready():
            return
        tick.wait(0.25)
    pytest.fail("The worker did not do it in time.")


def swept(place):
    """Have the worker take in the place's forecast, and wait for what it says."""
    DueWork.objects.all().delete()
    due.put("take-in-forecast", place.key)
    mine = DueWork.objects.filter(verb="take-in-forecast")
    sweep.delay()
    until(lambda: mine.exclude(fault="", done_at=None).exists())
    return mine.get().fault


def test_a_worker_takes_in_a_forecast_and_asks_for_what_is_new(start, place, server):
    grid = server.replies[sky_shapes.GRID][0]
    server.answers(
        sky_shapes.GRID, Reply(body=grid.body, headers={"ETag": '"7"'} | grid.headers)
    )
    plugins.enable("weather_gridpoint", {"address": server.address})
    with start(beat=False):
        assert swept(place) == ""
        assert swept(place) == ""
    forecast = Forecast.objects.get()
    assert forecast.source == "weather_gridpoint"
    assert forecast.issued_at == DEMO_SKY.issued_at
    assert forecast.hours.count() == 168
    assert [headers["If-None-Match"] for _, headers in server.asked] == [
        None,
        None,
        '"7"',
    ]


def test_a_service_that_never_comes_to_an_end_is_given_up(start, place, server):
    server.answers(sky_shapes.POINT, Reply(body=b" " * 10_000, slow_s=0.2))
    given = {"address": server.address, "timeout_s": 1.0, "tries": 1.0}
    plugins.enable("weather_gridpoint", given)
    with start(beat=False):
        said = swept(place)
    assert "Weather gridpoint cannot answer" in said
    assert "answered too slowly, and not to the end" in said
    last = PluginState.objects.get().last_fault
    assert last.removeprefix("Plugin weather_gridpoint ") in said
    assert not Forecast.objects.exists()
