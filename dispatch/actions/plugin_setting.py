"""Turn a plugin on with options, change them, turn it off; what hangs on it is unknown until it is asked again."""

from collections.abc import Mapping

from django.db import transaction

from dispatch.actions import (
    access,
    asked_prices,
    clock,
    drives,
    due,
    facts,
    feeds,
    history,
    keeping,
    plugin_list,
    plugin_words,
    plugins,
    weather,
)
from dispatch.actions.errors import Refused
from dispatch.hooks import registry
from dispatch.hooks.manifest import Manifest, Option
from dispatch.records.models import Account, Judged, PluginState, Veto

_LONGEST_VALUE = 40
_NOT_YET = "It was turned on or set anew, and has not been asked yet."


@transaction.atomic
def turn_on(
    name: str,
    given: Mapping[str, object],
    *,
    by: Account,
    forget: frozenset[str] = frozenset(),
    why: str = "",
    seen: Mapping[str, str] | None = None,
) -> None:
    """Enable a plugin with the options given; the rest stand at their defaults. ``seen`` is how its page showed them.

    A secret that is not given stays as it was, unless it is among those to ``forget``.

    Raises:
        Refused: there is no such plugin, it does not fit this socket, or an option is wrong.
        Stale: its options do not stand as they were seen.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    manifest = _manifest(name)
    # A row to lock is there even where it was never turned on; what is refused takes it back.
    PluginState.objects.get_or_create(name=name, defaults={"enabled": False})
    before = PluginState.objects.select_for_update().get(name=name)
    if seen is not None and seen != plugin_list.standing(manifest, before.options):
        raise keeping.crossed(plugin_words.spaced(name))
    options = {**_kept(manifest, before, forget), **given}
    sentence = _told(manifest, before, options)
    plugins.enable(name, options, by=by, sentence=sentence, why=why)
    _ask_again(manifest, name, enabled=True)


@transaction.atomic
def turn_off(name: str, *, by: Account, why: str = "") -> None:
    """Turn a plugin off; its options are kept. What only it could tell is unknown from now on.

    Raises:
        Refused: it is not turned on.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    if not PluginState.objects.filter(name=name, enabled=True).update(enabled=False):
        raise Refused(f"Plugin {name} is not turned on, so nothing was changed.")
    sentence = f"Turned the plugin {plugin_words.spaced(name)} off."
    history.write("disable-plugin", f"plugin {name}", sentence, by=by, why=why)
    found = registry.named(name)
    if found.manifest:
        _ask_again(found.manifest, name, enabled=False)


def _manifest(name: str) -> Manifest:
    found = registry.named(name)
    if found.manifest is None:
        raise Refused(f"Plugin {name} cannot be turned on: {found.refused}")
    return found.manifest


def _kept(
    manifest: Manifest, before: PluginState, forget: frozenset[str]
) -> dict[str, object]:
    """The secrets that stay as they are."""
    stored = before.options
    return {
        option.name: stored[option.name]
        for option in manifest.options
        if option.kind == "secret"
        and option.name in stored
        and option.name not in forget
    }


def _told(
    manifest: Manifest, before: PluginState, options: Mapping[str, object]
) -> str:
    """What changed, in a sentence that shows no secret."""
    stored = before.options
    changes = [
        _change(option, stored.get(option.name), options.get(option.name))
        for option in manifest.options
        if options.get(option.name, option.default)
        != stored.get(option.name, option.default)
    ]
    what = "Turned on" if not before.enabled else "Set" if changes else "Started afresh"
    told = f": {'; '.join(changes)}" if changes else ""
    return f"{what} the plugin {plugin_words.spaced(manifest.name)}{told}."


def _change(option: Option, was: object, now: object) -> str:
    name = plugin_words.within(option.name)
    if option.kind == "secret":
        return f"{name} {'changed' if now else 'forgotten'}"
    return f"{name} {_short(option, now)}" + (
        f" (was {_short(option, was)})" if was is not None else ""
    )


def _short(option: Option, value: object) -> str:
    shown = option.default if value is None else value
    if isinstance(shown, bool):
        return "yes" if shown else "no"
    text = f"{shown:g}" if isinstance(shown, float) else " ".join(str(shown).split())
    if len(text) > _LONGEST_VALUE:
        return f"{text[: _LONGEST_VALUE - 1]}…"
    return text or "empty"


def _ask_again(manifest: Manifest, name: str, *, enabled: bool) -> None:
    """Leave what hangs on a plugin to the worker; what it told before no longer counts."""
    if "vetoes" in manifest.hooks:
        Judged.objects.filter(plugin=name).delete()
        Veto.objects.filter(plugin=name).delete()
        if enabled:
            _unknown_until_asked(name)
        due.put("judge-book", "all")
    if "forecast" in manifest.hooks and enabled:
        weather.ask_later()
    if "drives" in manifest.hooks:
        drives.later()
    if "price" in manifest.hooks and enabled:
        asked_prices.ask_anew(name)
    if "publish" in manifest.hooks and enabled:
        feeds.later()


def _unknown_until_asked(name: str) -> None:
    now = clock.now()
    Judged.objects.bulk_create(
        Judged(stage=stage, plugin=name, since=now, until=now, at=now, fault=_NOT_YET)
        for stage in facts.open_stages()
    )
