"""Find plugins: folders of the ``plugins`` package, and what other distributions offer. Found is not enabled."""

import importlib
import pkgutil
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from importlib.metadata import entry_points
from pathlib import Path
from time import monotonic

from dispatch.hooks import apart
from dispatch.hooks.manifest import InvalidOption, Manifest
from dispatch.hooks.specs import HOOKS, SOCKET

_FOLDER = "plugins"
_GROUP = "leeboard"
_LONGEST = 500
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}")
# Seconds a plugin's package may take to be imported, and its check of options to be done: a busy
# machine may need some.
IMPORT_S, CHECK_S = 5.0, 5.0
# One that is refused is looked at again after a while, so that mending it shows.
_AGAIN_S = 5.0


@dataclass(frozen=True, kw_only=True)
class Found:
    """A plugin that was found: its module, and its manifest or why it is refused.

    The manifest is without the plugin's own check of its options, which is not run in this process:
    ``checks`` says whether there is one.
    """

    name: str
    module: str
    manifest: Manifest | None = None
    refused: str = ""
    checks: bool = False


_NEVER = (Found(name="", module=""), 0.0)
# What looking told, by name and module, and until when that is good.
_LOOKED: dict[tuple[str, str], tuple[Found, float]] = {}


def found() -> tuple[Found, ...]:
    """Every plugin there is, by name; the incompatible with the reason.

    None is imported here: that is done in a process apart, once, in bounded time.
    """
    offered = _offered()
    unknown = [one for one in offered if _LOOKED.get(one, _NEVER)[1] < monotonic()]
    if unknown:
        _look_at(unknown)
    return tuple(_LOOKED[one][0] for one in offered)


def _offered() -> list[tuple[str, str]]:
    """The name and module of each."""
    folder = importlib.import_module(_FOLDER)
    own = {
        info.name: f"{_FOLDER}.{info.name}"
        for info in pkgutil.iter_modules(folder.__path__)
        if info.ispkg
    }
    others = dict(_others(tuple(map(_as_it_stands, sys.path))))
    return sorted({**others, **own}.items())


@lru_cache(maxsize=1)
def _others(_where: tuple[tuple[str, int], ...]) -> tuple[tuple[str, str], ...]:
    """What other distributions offer; all of theirs are read anew only where one of the folders changed."""
    return tuple((point.name, point.module) for point in entry_points(group=_GROUP))


def _as_it_stands(folder: str) -> tuple[str, int]:
    """A folder and when something was last put into it or taken out."""
    try:
        return folder, Path(folder).stat().st_mtime_ns
    except OSError:
        return folder, 0


def named(name: str) -> Found:
    """The plugin of a name; one that is not there is refused with a sentence."""
    missing = Found(name=name, module="", refused=f"no plugin {name} was found.")
    return next((one for one in found() if one.name == name), missing)


def validate(one: Found, options: Mapping[str, object]) -> dict[str, object]:
    """The options of a plugin in full; its own check of them is done in a process apart.

    Raises:
        LookupError: the plugin was refused.
        InvalidOption: an option is unknown, missing or of the wrong kind, they do not go together, or
            they could not be checked.
    """
    if one.manifest is None:
        raise LookupError(one.refused)
    whole = one.manifest.validate(options)
    if not one.checks:
        return whole
    try:
        wrong = apart.within(CHECK_S, lambda: _own_check(one, whole))
    except apart.Ended as ended:
        raise InvalidOption(
            f"the options cannot be checked: its check {ended}"
        ) from ended
    if wrong:
        raise InvalidOption(str(wrong))
    return whole


def load(one: Found, options: Mapping[str, object]) -> object:
    """Make a plugin's object with its options, in this process.

    Raises:
        LookupError: the plugin was refused.
        InvalidOption: an option is unknown, missing or of the wrong kind.
        Exception: whatever the plugin raises; the guard loads with care, nobody else should.
    """
    if one.manifest is None:
        raise LookupError(one.refused)
    whole = one.manifest.validate(options)
    if one.checks and (wrong := _own_check(one, whole)):
        raise InvalidOption(wrong)
    plugin = importlib.import_module(f"{one.module}.plugin")
    made: object = plugin.make(whole)
    return made


def _own_check(one: Found, whole: Mapping[str, object]) -> str:
    """What the plugin's own check finds wrong; for a process apart."""
    manifest: Manifest = importlib.import_module(one.module).MANIFEST
    return manifest.wrong(whole)


def said(error: BaseException) -> str:
    """The text of an error; a stranger's own kind may fail to give one."""
    try:
        return str(error)
    except Exception:  # noqa: BLE001 - giving its text is a stranger's code too
        return "it does not say why"


def _look_at(unknown: list[tuple[str, str]]) -> None:
    """Import each in a process apart, and remember what it says of itself.

    One that did not come to its end is not waited for again by this process.
    """
    looks = [partial(_look, *one) for one in unknown]
    for (name, module), told in zip(unknown, apart.each(IMPORT_S, looks), strict=True):
        one = told if isinstance(told, Found) else _ended(name, module, told)
        again = one.refused and isinstance(told, Found)
        _LOOKED[name, module] = one, monotonic() + _AGAIN_S if again else float("inf")


def _ended(name: str, module: str, how: apart.Ended) -> Found:
    why = f"it cannot be imported: it {how} Mend it, then start the service again."
    return Found(name=name, module=module, refused=why)


def _look(name: str, module: str) -> Found:
    """What a plugin's package says of itself; for a process apart, and in a form that can leave it."""
    try:
        manifest = importlib.import_module(module).MANIFEST
        why = _unfit(name, manifest)
    except BaseException as error:  # noqa: BLE001 - a stranger's module may raise anything while it is imported
        why = f"it cannot be imported ({type(error).__name__}: {said(error)})."
        return Found(name=name, module=module, refused=why[:_LONGEST])
    if why:
        return Found(name=name, module=module, refused=why)
    plain = replace(manifest, check=None)
    checks = manifest.check is not None
    return Found(name=name, module=module, manifest=plain, checks=checks)


def _unfit(name: str, manifest: object) -> str:
    """Why a manifest does not fit this house, or nothing."""
    if not isinstance(manifest, Manifest):
        return "its MANIFEST is not a manifest."
    if manifest.socket != SOCKET:
        return f"it was built for socket {manifest.socket}, this house has socket {SOCKET}."
    if manifest.name != name or not _NAME.fullmatch(name):
        return f"its manifest calls it {manifest.name}; {name[:40]} is wanted, in letters, digits, - and _, 40 at most."
    strange = sorted(set(manifest.hooks) - set(HOOKS))
    if strange:
        return (
            f"this house has no hook {', '.join(strange)}; it has {', '.join(HOOKS)}."
        )
    return ""
