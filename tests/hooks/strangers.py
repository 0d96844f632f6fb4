"""Plugins that strangers might write, and what they are asked."""

import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from types import ModuleType

import pytest

from dispatch.hooks.manifest import Manifest
from dispatch.hooks.registry import Found
from dispatch.hooks.specs import SOCKET, hookimpl
from dispatch.hooks.values import ForecastAnswer, ForecastAsk, VetoAsk
from dispatch.trade.sky import Site, SkyHour
from dispatch.trade.spans import Span
from dispatch.trade.work import Veto, Work

MORNING = datetime(2027, 5, 24, 12, tzinfo=UTC)
DAY = Span(MORNING, MORNING + timedelta(days=1))
FORECAST_ASK = ForecastAsk(place_key="pier", latitude=44.1, longitude=-69.1, span=DAY)
VETO_ASK = VetoAsk(
    stage_key="J1-wash",
    work=Work(
        family="wash",
        site=Site(lat=44.1, lon=-69.1, zone="America/New_York"),
        quickest_minutes=60,
    ),
    sky=None,
    horizon=DAY,
    units="us",
)


def hours(count: int = 3, **numbers: float | None) -> tuple[SkyHour, ...]:
    """Some hours of fair sky, with some numbers changed."""
    fair: dict[str, float | None] = {"air_c": 15.0, "wind_ms": 2.0, "rain_mm": None}
    return tuple(
        SkyHour(at=MORNING + timedelta(hours=hour), **(fair | numbers))
        for hour in range(count)
    )


def forecast(**numbers: float | None) -> ForecastAnswer:
    return ForecastAnswer(issued_at=MORNING, hours=hours(**numbers))


def veto(**changes: object) -> Veto:
    given: dict[str, object] = {
        "span": DAY,
        "edge": "during",
        "code": "wind",
        "sentence": "gust 20 mph, at most 14",
        "numbers": {"gust_ms": 8.9},
        "strength": "owner",
    }
    return Veto(**(given | changes))  # type: ignore[arg-type]


class Stranger:
    """A plugin that does whatever it was given to do when it is asked for a forecast."""

    def __init__(self, does: Callable[[ForecastAsk], object]) -> None:
        self._does = does

    @hookimpl
    def forecast(self, ask: ForecastAsk) -> object:
        return self._does(ask)


def manifest(**changes: object) -> Manifest:
    given: dict[str, object] = {
        "name": "stranger",
        "version": "1.0",
        "socket": SOCKET,
        "summary": "Does what a test wants.",
        "hooks": ("forecast",),
    }
    return Manifest(**(given | changes))  # type: ignore[arg-type]


def stranger(
    monkeypatch: pytest.MonkeyPatch, does: Callable[[ForecastAsk], object]
) -> Found:
    """Install a plugin that answers forecasts by calling ``does``."""
    return installed(monkeypatch, lambda options: Stranger(does))


def installed(
    monkeypatch: pytest.MonkeyPatch,
    make: Callable[..., object],
    name: str = "stranger",
    hook: str = "forecast",
) -> Found:
    """Install a plugin module with a ``make`` of its own."""
    called = f"a_{name}"
    package, module = ModuleType(called), ModuleType(f"{called}.plugin")
    package.__path__ = []
    module.make = make  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, called, package)
    monkeypatch.setitem(sys.modules, f"{called}.plugin", module)
    says = manifest(name=name, hooks=(hook,))
    return Found(name=name, module=called, manifest=says)
