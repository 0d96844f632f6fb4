"""The sky of a first week: who tells it, and the limits that can be turned on as they are."""

from collections.abc import Iterator
from dataclasses import dataclass

from django.db import transaction

from dispatch.actions import access, plugin_setting, plugins
from dispatch.hooks import registry
from dispatch.hooks.manifest import Manifest
from dispatch.records.models import Account, Place, PluginState


@dataclass(frozen=True, kw_only=True)
class Source:
    """A plugin that could help: ``ready`` where it works with its options as they stand at first."""

    name: str
    summary: str
    on: bool
    ready: bool


def answering(hook: str) -> tuple[Source, ...]:
    """Every plugin that answers a hook, those that need nothing first."""
    on = set(PluginState.objects.filter(enabled=True).values_list("name", flat=True))
    found = (
        Source(
            name=manifest.name,
            summary=manifest.summary,
            on=manifest.name in on,
            ready=all(option.default is not None for option in manifest.options),
        )
        for manifest in _fit(hook)
    )
    return tuple(sorted(found, key=lambda one: (not one.ready, one.name)))


def told() -> bool:
    """Whether somebody tells the sky and something judges it: a plugin, or the owner by hand."""
    by_hand = Place.objects.filter(forecasts__hand_from__isnull=False).exists()
    return (by_hand or any(plugins.enabled("forecast"))) and any(
        plugins.enabled("vetoes")
    )


@transaction.atomic
def turn_on_limits(*, by: Account) -> tuple[str, ...]:
    """Turn on everything that says when work may not be done and needs nothing for it; return the names.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    names = [one.name for one in answering("vetoes") if one.ready and not one.on]
    for name in names:
        plugin_setting.turn_on(name, {}, by=by, why="On the way to a first week.")
    return tuple(names)


def _fit(hook: str) -> Iterator[Manifest]:
    for found in registry.found():
        if found.manifest and hook in found.manifest.hooks:
            yield found.manifest
