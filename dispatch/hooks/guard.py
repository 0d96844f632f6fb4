"""One call to one plugin: catch, check the answer, count strikes, rest it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime, timedelta
from typing import Any

import pluggy

from dispatch.hooks.specs import PROJECT, Socket
from dispatch.hooks.values import ForecastAnswer, Receipt, VetoAnswer

_ANSWERS: Mapping[str, type] = {
    "forecast": ForecastAnswer,
    "vetoes": VetoAnswer,
    "send": Receipt,
}
_STRIKES, _WITHIN, _REST = 3, timedelta(minutes=10), timedelta(minutes=15)
_LONGEST = 5000


@dataclass(frozen=True, kw_only=True)
class Conduct:
    """How a plugin has behaved: its late failures, and until when it rests."""

    strikes: tuple[datetime, ...] = ()
    resting_until: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """An answer, or the fault as a sentence that names the plugin; and the plugin's standing after it."""

    answer: Any
    fault: str
    conduct: Conduct


def call(
    plugin: object,
    name: str,
    hook: str,
    ask: object,
    *,
    now: datetime,
    conduct: Conduct,
) -> Outcome:
    """Call one hook of one plugin; whatever it does, this returns."""
    if conduct.resting_until is not None and now < conduct.resting_until:
        fault = f"Plugin {name} rests until {conduct.resting_until:%H:%M} UTC after failing {_STRIKES} times."
        return Outcome(
            answer=None, fault=fault, strikes=strikes, resting_until=resting_until
        )
    try:
        answer = _implementation(plugin, hook)(ask)
    except Exception as error:  # noqa: BLE001 - a stranger's code may raise anything, and must not take the house along
        return _strike(
            f"Plugin {name} failed: {error or type(error).__name__}", now, strikes
        )
    wrong = _wrong(answer, hook)
    if wrong:
        return _strike(
            f"Plugin {name} gave an answer that cannot be used: {wrong}", now, strikes
        )
    return Outcome(answer=answer, fault="", conduct=Conduct())


def _implementation(plugin: object, hook: str) -> Any:  # noqa: ANN401 - a plugin's method, checked by its answer
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Socket)
    manager.register(plugin)
    manager.check_pending()
    (implementation,) = getattr(manager.hook, hook).get_hookimpls()
    return implementation.function


def _strike(fault: str, now: datetime, conduct: Conduct) -> Outcome:
    late = (*(moment for moment in conduct.strikes if now - moment < _WITHIN), now)
    rests = now + _REST if len(late) >= _STRIKES else None
    return Outcome(
        answer=None, fault=fault, conduct=Conduct(strikes=late, resting_until=rests)
    )


def _wrong(answer: object, hook: str) -> str:
    wanted = _ANSWERS[hook]
    if not isinstance(answer, wanted):
        return f"{type(answer).__name__} where {wanted.__name__} is wanted."
    parts = next(
        (value for value in vars(answer).values() if isinstance(value, tuple)), ()
    )
    if len(parts) > _LONGEST:
        return f"{len(parts)} entries, more than {_LONGEST}."
    return next((sentence for part in parts if (sentence := _not_finite(part))), "")


def _not_finite(part: object) -> str:
    if not is_dataclass(part):
        return f"{type(part).__name__} among its entries."
    for field in fields(part):
        value = getattr(part, field.name)
        if isinstance(value, float) and not math.isfinite(value):
            return f"{field.name} is {value}, which is no number."
    return ""
