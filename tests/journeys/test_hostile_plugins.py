"""Plugins that do their worst: the board opens all the same, a week is read for the planner, the fault is on the page.

Each is a real folder of plugins, found and asked as any other, over the sky and over vetoes.
"""

import re
import sys
from datetime import timedelta
from time import monotonic, process_time
from unittest.mock import patch

import pytest
from django.urls import reverse

import plugins as folder
from dispatch.actions import asked_prices, plugins, snapshot, sweeping, weather, windows
from dispatch.hooks import guard, registry
from dispatch.records.models import Forecast, PluginState, Stage, Week
from dispatch.trade.spans import Span
from tests.actions import plans, shop
from tests.web import people

pytestmark = [pytest.mark.django_db, pytest.mark.timeout(120)]
NAME = "worst"
LIMIT_S = 1.0
# As long as the board may take whatever plugins do.
BOARD_S = 3.0
INIT = """
{at_import}
from dispatch.hooks.manifest import Manifest
MANIFEST = Manifest(name="worst", version="1.0", socket=1, summary="Does its worst.", hooks={hooks!r})
"""
PLUGIN = """
import math, os, signal, sys, threading
from dataclasses import replace
from datetime import timedelta
from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import ForecastAnswer, PriceAnswer, PriceLine, VetoAnswer
from dispatch.trade.sky import SkyHour
from dispatch.trade.work import Veto

def hours(ask, count=3, **numbers):
    start = ask.span.start.replace(minute=0, second=0, microsecond=0) + timedelta(hours=6)
    given = dict(air_c=15.0, wind_ms=2.0) | numbers
    return tuple(SkyHour(at=start + timedelta(hours=n), **given) for n in range(count))

def fine(ask):
    return ForecastAnswer(issued_at=ask.span.start - timedelta(hours=1), hours=hours(ask))

def veto(ask):
    return Veto(span=ask.horizon, edge="during", code="x", sentence="x", numbers={{}}, strength="wall")

class Worst:
    @hookimpl
    def {named}(self, ask):
        {does}

def make(options):
    return Worst()
"""
SKY = {
    "raises": "raise KeyError('hourly')",
    "hangs": "threading.Event().wait(60)",
    "NaN": "return replace(fine(ask), hours=hours(ask, air_c=math.nan))",
    "another type": "return [15.0, 16.0]",
    "ten million hours": "return replace(fine(ask), hours=hours(ask) * 3_400_000)",
    "kills its process": "os.kill(os.getpid(), signal.SIGKILL)",
    "kills its group": "os.killpg(0, signal.SIGKILL)",
    "leaves": "os._exit(0)",
    "answers too late": "threading.Event().wait(1.5); return fine(ask)",
    "no end of recursion": "return self.forecast(ask)",
    "no end of memory": "return bytearray(2**31)",
    "calm for days": "return replace(fine(ask), hours=hours(ask, 40, wind_ms=0.0))",
}
PRICES = {
    "raises": "raise KeyError('price')",
    "hangs": "threading.Event().wait(60)",
    "NaN": "return PriceAnswer(lines=(PriceLine(words='x', cents=math.nan),))",
    "less than nothing": "return PriceAnswer(lines=(PriceLine(words='x', cents=-5),))",
    "another type": "return 5",
    "kills its process": "os.kill(os.getpid(), signal.SIGKILL)",
}
VETOES = {
    "raises": "raise KeyError('hourly')",
    "hangs": "threading.Event().wait(60)",
    "ten million spans": "return VetoAnswer(vetoes=(veto(ask),) * 10**7)",
    "NaN": "return VetoAnswer(vetoes=(replace(veto(ask), numbers={'m': math.nan}),))",
    "another type": "return 5",
    "kills its process": "os.kill(os.getpid(), signal.SIGKILL)",
    "answers too late": "threading.Event().wait(1.5); return VetoAnswer(vetoes=())",
}
IMPORTS = {
    "raises": "raise RuntimeError('no')",
    "hangs": "import threading; threading.Event().wait(60)",
    "kills its process": "import os, signal; os.kill(os.getpid(), signal.SIGKILL)",
    "is no Python": "def",
}


@pytest.fixture
def place(monkeypatch):
    monkeypatch.setattr(guard, "LIMIT_S", LIMIT_S)
    monkeypatch.setattr(guard, "LIMITS_S", {})
    monkeypatch.setattr(registry, "IMPORT_S", LIMIT_S)
    place = plans.outfit()
    plans.wash(place)
    sweeping.sweep()
    return place


@pytest.fixture
def worst(place, tmp_path, monkeypatch):
    """Put the worst plugin beside the others and turn it on."""

    def install(
        hook: str,
        does: str = "return None",
        at_import: str = "",
        hooks: tuple[str, ...] = (),
        named: str = "",
    ) -> None:
        package = tmp_path / NAME
        package.mkdir()
        (package / "__init__.py").write_text(
            INIT.format(hooks=hooks or (hook,), at_import=at_import)
        )
        text = PLUGIN.format(named=named or hook, does=does)
        (package / "plugin.py").write_text(text)
        monkeypatch.setattr(folder, "__path__", [*folder.__path__, str(tmp_path)])
        monkeypatch.setattr(registry, "_LOOKED", {})
        PluginState.objects.create(name=NAME, enabled=True)

    yield install
    for name in [name for name in sys.modules if name.startswith(f"plugins.{NAME}")]:
        del sys.modules[name]


def opens(client) -> str:
    """The board, in time; return it."""
    client.force_login(people.owner())
    client.get("/sign-in/")
    # As the web server does when it starts.
    plugins.look()
    begun = process_time()
    with patch.object(guard, "call_apart", wraps=guard.call_apart) as asked:
        answer = client.get("/week/2027-05-24/")
    # It waits for no plugin at all; its own work is counted, however many others want the machine.
    assert not asked.called
    assert process_time() - begun < BOARD_S
    assert answer.status_code == 200
    return answer.text


def fault(client) -> str:
    """What the page of plugins says of the worst of them."""
    told = client.get("/plugins/").text
    return told[told.index(f'id="{NAME}"') :].partition("</article>")[0]


def planned() -> dict:
    """What the planner is given; that it can be read at all is half of the matter."""
    return snapshot.of(Week.objects.get_or_create(starts_on=plans.MONDAY)[0])


@pytest.mark.parametrize("does", SKY.values(), ids=SKY)
def test_a_sky_that_does_its_worst(client, worst, place, does):
    before = Forecast.objects.count()
    worst("forecast", does)
    PluginState.objects.filter(name="weather_file").update(enabled=False)
    weather.ask_later()
    begun = monotonic()
    sweeping.sweep()
    # Three tries of one place, each ended when it is late.
    assert monotonic() - begun < 3 * LIMIT_S + 15
    assert Forecast.objects.count() == before
    assert "forecast" in opens(client)
    assert "Last fault" in fault(client)
    assert planned()["stages"][0]["windows"]


@pytest.mark.parametrize("does", PRICES.values(), ids=PRICES)
def test_a_price_that_does_its_worst_leaves_the_catalogues(client, worst, place, does):
    worst("price", does)
    asked_prices.all_later()
    begun = monotonic()
    sweeping.sweep()
    assert monotonic() - begun < LIMIT_S + 10
    page = opens(client)
    assert "Worst failed, so jobs it has not priced as they stand now" in page
    assert "Last fault" in fault(client)
    estimate = client.get(reverse("estimate", args=["j1"])).text
    # A 20-foot wash at $4.60 a foot.
    assert "The catalogue asks $92" in estimate
    assert re.search(r"\bWorst [a-z]", estimate)
    assert "So this is the catalogue's price." in estimate
    assert planned()["stages"][0]["windows"]


def test_a_price_that_sleeps_and_a_sky_that_is_no_number_at_once(client, worst, place):
    """A36: the board opens, the price is the catalogue's, the last sky stands with its age, a week can be planned."""
    two = "def price(self, ask):\n        threading.Event().wait(60)\n\n    @hookimpl\n    def forecast"
    worst("forecast", SKY["NaN"], hooks=("forecast", "price"), named=two)
    PluginState.objects.filter(name="weather_file").update(enabled=False)
    asked_prices.all_later()
    weather.ask_later()
    sweeping.sweep()
    page = opens(client)
    assert len(PluginState.objects.get(name=NAME).strikes) >= 2
    assert (
        "jobs it has not priced as they stand now are priced by the catalogue" in page
    )
    assert "1 h old" in page
    assert "The catalogue asks $92" in client.get(reverse("estimate", args=["j1"])).text
    assert planned()["stages"][0]["windows"]


@pytest.mark.parametrize("does", VETOES.values(), ids=VETOES)
def test_vetoes_that_do_their_worst_leave_the_stage_unknown_and_never_go(
    client, worst, place, does
):
    worst("vetoes", does)
    stage = Stage.objects.get()
    week = Span(shop.NOW, shop.NOW + timedelta(days=6))
    assert windows.of(stage, week)
    weather.judge(stage)
    assert windows.of(stage, week) == ()
    opens(client)
    assert "Last fault" in fault(client)
    assert planned()["stages"][0]["windows"] == []


@pytest.mark.parametrize("at_import", IMPORTS.values(), ids=IMPORTS)
def test_one_that_cannot_be_imported_is_listed_and_keeps_nobody(
    client, worst, place, at_import
):
    worst("forecast", at_import=at_import)
    opens(client)
    said = fault(client)
    assert "cannot be imported" in said
    assert plugins.look() > 5
    assert planned()["stages"][0]["windows"]
