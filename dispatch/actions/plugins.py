"""Speak to enabled plugins through the guard, and keep count of how they behave."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from dispatch.actions import history, plugin_words
from dispatch.actions.errors import Refused
from dispatch.hooks import guard, manifest, registry
from dispatch.records.models import Account, PluginState


def enabled(hook: str) -> Iterator[PluginState]:
    """Yield the enabled plugins that answer a hook, by name."""
    able = {
        found.name
        for found in registry.found()
        if found.manifest and hook in found.manifest.hooks
    }
    yield from PluginState.objects.filter(enabled=True, name__in=able)


def look() -> int:
    """Look at every plugin there is, so that whoever asks for them next need not wait; return how many."""
    return len(registry.found())


def channel(name: str) -> PluginState | None:
    """The enabled plugin that hands messages to a channel; one that names it goes before one that takes all."""
    able = [(_manifest(state).channels, state) for state in enabled("send")]
    named = [state for channels, state in able if name in channels]
    others = [state for channels, state in able if not channels]
    return next(iter([*named, *others]), None)


def sends_once(state: PluginState) -> bool:
    """Whether a message may be handed to a plugin again without reaching anyone twice."""
    return _manifest(state).once


def channel_of(state: PluginState) -> str:
    """The channel that a plugin names first; one that takes every channel is tried with a text."""
    return next(iter(_manifest(state).channels), "text")


def signing_secret(state: PluginState) -> str:
    """The secret with which posts to a plugin are signed; empty where none is set."""
    return str(state.options.get(_manifest(state).signed_by) or "")


def about(state: PluginState) -> str:
    """What a plugin says of itself in a sentence."""
    return _manifest(state).summary


def _manifest(state: PluginState) -> manifest.Manifest:
    """The manifest of an enabled plugin.

    Raises:
        LookupError: it was found a moment ago and is no longer.
    """
    found = registry.named(state.name)
    if found.manifest is None:
        raise LookupError(found.refused)
    return found.manifest


def ask(state: PluginState, hook: str, question: object) -> guard.Outcome:
    """Put one question to one plugin, guarded and in a process of its own, and store what that did to its standing.

    A fault names it as people read it. Holds no transaction while the plugin works.
    """
    outcome = guard.call_apart(
        registry.named(state.name),
        state.options,
        hook,
        question,
        now=timezone.now(),
        conduct=_conduct(state),
    )
    if outcome.asked:
        _remember(state, outcome)
    return replace(outcome, fault=plugin_words.by_name(outcome.fault, state.name))


@transaction.atomic
def _remember(state: PluginState, outcome: guard.Outcome) -> None:
    """Count an answer or a fault to what stands now: another worker may have asked meanwhile."""
    row = PluginState.objects.select_for_update().filter(pk=state.pk).first()
    if row is None:
        return
    now = timezone.now()
    conduct = guard.after(_conduct(row), outcome, now)
    row.strikes = [moment.isoformat() for moment in conduct.strikes]
    # An answer that was under way when others failed does not wake it.
    rests = row.resting_until is not None and row.resting_until > now
    row.resting_until = row.resting_until if rests else conduct.resting_until
    row.last_fault = outcome.fault or row.last_fault
    row.last_good_at = row.last_good_at if outcome.fault else now
    row.save(update_fields=["strikes", "resting_until", "last_fault", "last_good_at"])


def _conduct(row: PluginState) -> guard.Conduct:
    return guard.Conduct(
        strikes=tuple(datetime.fromisoformat(text) for text in row.strikes),
        resting_until=row.resting_until,
    )


@transaction.atomic
def enable(
    name: str,
    options: dict[str, object],
    *,
    by: Account | None = None,
    sentence: str = "",
    why: str = "",
) -> PluginState:
    """Enable a plugin that was found, with options its manifest accepts; one that rested starts afresh.

    ``sentence`` is what the history tells of it, where it is more than that it was enabled.

    Raises:
        Refused: there is no such plugin, it does not fit this socket, or an option is wrong.
    """
    found = registry.named(name)
    if found.manifest is None:
        raise Refused(f"Plugin {name} cannot be enabled: {found.refused}")
    try:
        checked = registry.validate(found, options)
    except manifest.InvalidOption as error:
        raise Refused(f"Plugin {name}: {error}") from error
    state, _ = PluginState.objects.update_or_create(
        name=name,
        defaults={
            "enabled": True,
            "options": dict(checked),
            "strikes": [],
            "resting_until": None,
        },
    )
    history.write(
        "enable-plugin",
        f"plugin {name}",
        sentence or f"Turned on the plugin {plugin_words.spaced(name)}.",
        by=by,
        why=why,
    )
    return state
