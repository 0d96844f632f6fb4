"""Find plugins: folders of the ``plugins`` package, and what other distributions offer. Found is not enabled."""

import importlib
import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import entry_points

from dispatch.hooks.manifest import Manifest
from dispatch.hooks.specs import HOOKS, SOCKET

_FOLDER = "plugins"
_GROUP = "leeboard"
_LONGEST = 500


@dataclass(frozen=True, kw_only=True)
class Found:
    """A plugin that was found: its module, and its manifest or why it is refused."""

    name: str
    module: str
    manifest: Manifest | None = None
    refused: str = ""


def found() -> tuple[Found, ...]:
    """Every plugin there is, by name; the incompatible with the reason."""
    folder = importlib.import_module(_FOLDER)
    own = {
        info.name: f"{_FOLDER}.{info.name}"
        for info in pkgutil.iter_modules(folder.__path__)
        if info.ispkg
    }
    others = {point.name: point.module for point in entry_points(group=_GROUP)}
    return tuple(
        _look(name, module) for name, module in sorted({**others, **own}.items())
    )


def named(name: str) -> Found:
    """The plugin of a name; one that is not there is refused with a sentence."""
    missing = Found(name=name, module="", refused=f"no plugin {name} was found.")
    return next((one for one in found() if one.name == name), missing)


def load(one: Found, options: Mapping[str, object]) -> object:
    """Make a plugin's object with its options.

    Raises:
        LookupError: the plugin was refused.
        InvalidOption: an option is unknown, missing or of the wrong kind.
        Exception: whatever the plugin raises; the guard loads with care, nobody else should.
    """
    if one.manifest is None:
        raise LookupError(one.refused)
    plugin = importlib.import_module(f"{one.module}.plugin")
    made: object = plugin.make(one.manifest.validate(options))
    return made


def said(error: BaseException) -> str:
    """The text of an error; a stranger's own kind may fail to give one."""
    try:
        return str(error)
    except Exception:  # noqa: BLE001 - giving its text is a stranger's code too
        return "it does not say why"


def _look(name: str, module: str) -> Found:
    try:
        manifest = importlib.import_module(module).MANIFEST
        why = _unfit(name, manifest)
    except KeyboardInterrupt:
        raise
    except BaseException as error:  # noqa: BLE001 - a stranger's module may raise anything while it is imported
        why = f"it cannot be imported ({type(error).__name__}: {said(error)})."[
            :_LONGEST
        ]
        return Found(name=name, module=module, refused=why)
    if why:
        return Found(name=name, module=module, refused=why)
    return Found(name=name, module=module, manifest=manifest)


def _unfit(name: str, manifest: object) -> str:
    """Why a manifest does not fit this house, or nothing."""
    if not isinstance(manifest, Manifest):
        return "its MANIFEST is not a manifest."
    if manifest.socket != SOCKET:
        return f"it was built for socket {manifest.socket}, this house has socket {SOCKET}."
    if manifest.name != name:
        return f"its manifest calls it {manifest.name}."
    strange = sorted(set(manifest.hooks) - set(HOOKS))
    if strange:
        return (
            f"this house has no hook {', '.join(strange)}; it has {', '.join(HOOKS)}."
        )
    return ""
