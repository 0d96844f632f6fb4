"""Find plugins: folders of the ``plugins`` package, and what other distributions offer. Found is not enabled."""

import importlib
import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import entry_points

from dispatch.hooks.manifest import Manifest
from dispatch.hooks.specs import SOCKET

_FOLDER = "plugins"
_GROUP = "leeboard"


@dataclass(frozen=True, kw_only=True)
class Found:
    """A plugin that was found: its module, and its manifest or why it is refused."""

    name: str
    module: str
    manifest: Manifest | None
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
    missing = Found(
        name=name, module="", manifest=None, refused=f"no plugin {name} was found."
    )
    return next((one for one in found() if one.name == name), missing)


def load(one: Found, options: Mapping[str, object]) -> object:
    """Make a plugin's object with its options.

    Raises:
        LookupError: the plugin was refused.
    """
    if one.manifest is None:
        raise LookupError(one.refused)
    plugin = importlib.import_module(f"{one.module}.plugin")
    made: object = plugin.make(one.manifest.validate(options))
    return made


def _look(name: str, module: str) -> Found:
    try:
        manifest = importlib.import_module(module).MANIFEST
    except (ImportError, AttributeError) as error:
        return Found(
            name=name,
            module=module,
            manifest=None,
            refused=f"it has no readable manifest: {error}.",
        )
    if not isinstance(manifest, Manifest):
        return Found(
            name=name,
            module=module,
            manifest=None,
            refused="its MANIFEST is not a manifest.",
        )
    if manifest.socket != SOCKET:
        refused = f"it was built for socket {manifest.socket}, this house has socket {SOCKET}."
        return Found(name=name, module=module, manifest=None, refused=refused)
    return Found(name=name, module=module, manifest=manifest)
