"""Every plugin as its page shows it: what it is for, how it stands, its options; secrets are never among them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
from zoneinfo import ZoneInfo

from django.utils import timezone

from dispatch.actions import drives, plugin_words
from dispatch.hooks import registry
from dispatch.hooks.manifest import InvalidOption, Manifest, Option
from dispatch.hooks.registry import Found
from dispatch.records.models import Outfit, PluginState

_MEANS = {"email": "e-mail", "text": "text message"}
_RESTS = "It failed three times, and is not asked until {until:%H:%M}."
# hook -> what a plugin that answers it is for
_DOES: Mapping[str, str] = {
    "forecast": "Tells the weather",
    "vetoes": "Says when work may not be done",
    "drives": "Tells how long it is from place to place",
    "price": "Prices jobs",
    "send": "Sends messages",
    "hear": "Hears what became of messages, and what people answer",
    "publish": "Writes each person's visits for their own programs",
}


@dataclass(frozen=True, kw_only=True)
class OptionShown:
    """One option: ``value`` is what stands (empty for a secret), ``stored`` whether a secret is kept."""

    name: str
    label: str
    kind: str
    says: str
    value: str
    needed: bool
    stored: bool = False
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PluginShown:
    """One plugin; ``state`` is on, off, resting, unset or unfit, ``said`` that state in a sentence.

    ``holds`` is what the house has of its answers, where that is worth a line.
    ``sends`` is whether it hands messages on, ``drives`` whether it tells drives, ``prices`` whether it prices jobs, ``hears`` whether its service may post back to the house. ``enabled`` is whether it was turned on, whatever became of it; ``tells`` whether others go by what it
    answers.
    """

    name: str
    version: str
    summary: str
    does: tuple[str, ...]
    state: str
    said: str
    fault: str
    good_at: datetime | None
    options: tuple[OptionShown, ...]
    enabled: bool
    tells: bool
    sends: bool = False
    drives: bool = False
    prices: bool = False
    hears: bool = False
    holds: str = ""


def all_known() -> tuple[PluginShown, ...]:
    """Every plugin that was found or was ever turned on, by name."""
    rows = {row.name: row for row in PluginState.objects.all()}
    found = {one.name: one for one in registry.found()}
    gone = {name: registry.named(name) for name in rows if name not in found}
    both = sorted({**found, **gone}.items())
    zone = _zone()
    return tuple(_shown(one, rows.get(name), zone) for name, one in both)


def named(name: str) -> PluginShown | None:
    """One of them, or None."""
    return next((one for one in all_known() if one.name == name), None)


def standing(manifest: Manifest | None, stored: Mapping[str, object]) -> dict[str, str]:
    """How options stand on their plugin's page, by name; a secret is not told."""
    shown = _options(manifest, stored)
    return {one.name: one.value for one in shown if one.kind != "secret"}


def entered(
    shown: PluginShown, sent: Mapping[str, str]
) -> tuple[dict[str, object], frozenset[str]]:
    """Fields of the form as options, and the secrets to forget; an empty field is an option not given."""
    given = {option.name: _read(option, sent) for option in shown.options}
    secrets = [option.name for option in shown.options if option.kind == "secret"]
    forget = frozenset(name for name in secrets if f"forget:{name}" in sent)
    return {name: value for name, value in given.items() if value is not None}, forget


def _read(option: OptionShown, sent: Mapping[str, str]) -> object:
    under = "secret" if option.kind == "secret" else "v"
    text = sent.get(f"{under}:{option.name}", "")
    if option.kind == "yes-no":
        return bool(text)
    if option.kind in ("secret", "lines"):
        text = text.replace("\r\n", "\n")
    if not text.strip():
        return None if option.needed or option.kind in ("secret", "number") else ""
    return _number(text) if option.kind == "number" else text.strip()


def _number(text: str) -> object:
    """A number where it is one; what is none stays text, for the manifest to refuse."""
    try:
        return float(text)
    except ValueError:
        return text


def _zone() -> tzinfo:
    """The outfit's zone, in which the page tells times."""
    name = Outfit.objects.values_list("time_zone", flat=True).first()
    return ZoneInfo(name) if name else UTC


def _shown(one: Found, row: PluginState | None, zone: tzinfo) -> PluginShown:
    state, said = _state(one, row, zone)
    manifest = one.manifest
    return PluginShown(
        name=one.name,
        version=manifest.version if manifest else "",
        summary=manifest.summary if manifest else "",
        does=tuple(_does(manifest)) if manifest else (),
        state=state,
        said=said,
        fault=_fault(row, manifest) if row else "",
        good_at=row.last_good_at if row else None,
        options=_options(manifest, row.options if row else {}),
        enabled=bool(row and row.enabled),
        sends=bool(manifest and "send" in manifest.hooks),
        drives=bool(manifest and "drives" in manifest.hooks),
        prices=bool(manifest and "price" in manifest.hooks),
        hears=bool(manifest and "hear" in manifest.hooks),
        holds=_holds(manifest) if manifest and row and row.enabled else "",
        tells=bool(manifest and {"forecast", "vetoes"} & set(manifest.hooks)),
    )


def _holds(manifest: Manifest) -> str:
    """What is in store of a plugin's answers, where a page would not show it otherwise."""
    if "drives" not in manifest.hooks:
        return ""
    known = drives.known(manifest.name)
    if not known.of:
        return "No two places are in use yet, so there is no drive to tell."
    if known.told == known.of:
        return f"It told all {known.of} drives between places in use."
    return f"It told {known.told} of {known.of} drives between places in use; the rest is reckoned by distance."


def _does(manifest: Manifest) -> Iterator[str]:
    for hook in manifest.hooks:
        means = " and ".join(_MEANS.get(one, one) for one in manifest.channels)
        yield _DOES.get(hook, hook) + (
            f" by {means}" if means and hook == "send" else ""
        )


def _state(one: Found, row: PluginState | None, zone: tzinfo) -> tuple[str, str]:
    if one.manifest is None:
        return "unfit", f"It cannot be used: {one.refused}"
    if row is None or not row.enabled:
        return "off", "It is not turned on."
    try:
        registry.validate(one, row.options)
    except InvalidOption as error:
        said = plugin_words.plainly(str(error), one.name, _names(one.manifest))
        return "unset", f"It cannot work with its options. {said}"
    if row.resting_until is not None and row.resting_until > timezone.now():
        return "resting", _RESTS.format(until=row.resting_until.astimezone(zone))
    return "on", "It is asked when it is needed."


def _options(
    manifest: Manifest | None, stored: Mapping[str, object]
) -> tuple[OptionShown, ...]:
    options = manifest.options if manifest else ()
    return tuple(_option(option, stored.get(option.name)) for option in options)


def _option(option: Option, stored: object) -> OptionShown:
    secret = option.kind == "secret"
    value = option.default if stored is None else stored
    return OptionShown(
        name=option.name,
        label=plugin_words.spaced(option.name),
        kind=option.kind,
        says=option.says,
        value="" if secret else _plain(value),
        needed=option.default is None,
        stored=secret and bool(stored),
        choices=option.choices,
    )


def _fault(row: PluginState, manifest: Manifest | None) -> str:
    """What it failed with last; its own page needs no name before it."""
    return plugin_words.plainly(row.last_fault, row.name, _names(manifest))


def _names(manifest: Manifest | None) -> tuple[str, ...]:
    return tuple(option.name for option in manifest.options) if manifest else ()


def _plain(value: object) -> str:
    if value is None or value is False:
        return ""
    if isinstance(value, float):
        return f"{value:.12g}"
    return str(value)
