"""Snags of plugins: one that failed just now, or so often that it is not asked for a while."""

import math
from collections.abc import Iterator
from datetime import datetime, timedelta

from django.utils import timezone

from dispatch.actions import asked_prices, plugin_words
from dispatch.actions.board import Snag
from dispatch.actions.board_words import lasting
from dispatch.hooks import guard
from dispatch.records.models import PluginState

_MEND = "See its page under Plugins: what it is asked, its options, its last fault."


def of() -> Iterator[Snag]:
    """A snag for each plugin that rests after failures or has failed within the last minutes, with its last fault."""
    for row in PluginState.objects.filter(enabled=True):
        said = _said(row)
        if said:
            last = plugin_words.plainly(row.last_fault, row.name, row.options)
            yield Snag(
                weight=84,
                subject="Plugins",
                sentence=f"{said} {last}",
                mend=_MEND,
            )


def _said(row: PluginState) -> str:
    now, name = timezone.now(), plugin_words.spaced(row.name)
    if row.resting_until is not None and row.resting_until > now:
        left = lasting(math.ceil((row.resting_until - now) / timedelta(minutes=1)))
        return f"{name} is not asked for another {left}, after {guard.STRIKES} failures; till then {_meanwhile(row)}."
    late = [at for at in row.strikes if now - datetime.fromisoformat(at) < guard.WITHIN]
    if not late:
        return ""
    if _prices(row):
        return f"{name} failed, so {_meanwhile(row)}."
    return f"{name} failed, so what it would tell is unknown."


def _meanwhile(row: PluginState) -> str:
    """What is gone by while a plugin is not asked."""
    if _prices(row):
        return "jobs it has not priced as they stand now are priced by the catalogue"
    return "its last answers count, wider the older they are"


def _prices(row: PluginState) -> bool:
    return row.name in asked_prices.who()
