"""Plugins are found without being named, and the unfit are listed with the reason."""

import os
import sys
from importlib.metadata import EntryPoint, EntryPoints
from pathlib import Path

import pytest

from dispatch.hooks import registry
from dispatch.hooks.specs import SOCKET
from tests.hooks.strangers import installed

FOLDERS = {
    path.parent.name
    for path in (Path(__file__).parents[2] / "plugins").glob("*/__init__.py")
}


MUTE = """
class Mute(Exception):
    def __str__(self):
        raise RuntimeError

raise Mute
"""


@pytest.fixture
def offer(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    """A distribution elsewhere that offers the plugin ``visitor``, from the text of its package."""

    def from_elsewhere(init: str) -> registry.Found:
        package = tmp_path / f"visitor_{os.urandom(4).hex()}"
        package.mkdir()
        (package / "__init__.py").write_text(init)
        monkeypatch.syspath_prepend(tmp_path)
        point = EntryPoint("visitor", package.name, "leeboard")
        monkeypatch.setattr(
            registry,
            "entry_points",
            lambda group: EntryPoints([point]).select(group=group),
        )
        return registry.named("visitor")

    return from_elsewhere


VISITOR = """
from dispatch.hooks.manifest import Manifest
MANIFEST = Manifest(name={name!r}, version="1", socket={socket}, summary="Visits.", hooks={hooks!r})
"""


def visitor(
    *, name: str = "visitor", socket: int = SOCKET, hooks: tuple[str, ...] = ("send",)
) -> str:
    return VISITOR.format(name=name, socket=socket, hooks=hooks)


def test_every_folder_of_plugins_is_found() -> None:
    assert FOLDERS
    assert {one.name for one in registry.found()} >= FOLDERS


def test_finding_a_plugin_does_not_load_it(monkeypatch: pytest.MonkeyPatch) -> None:
    for module in [f"plugins.{name}.plugin" for name in FOLDERS]:
        monkeypatch.delitem(sys.modules, module, raising=False)
    registry.found()
    assert not {f"plugins.{name}.plugin" for name in FOLDERS} & set(sys.modules)


def test_a_plugin_of_another_distribution_is_found(offer) -> None:
    one = offer(visitor())
    assert one.manifest is not None
    assert one.manifest.summary == "Visits."


@pytest.mark.parametrize(
    ("init", "told"),
    [
        (visitor(socket=SOCKET + 1), f"built for socket {SOCKET + 1}, this house has"),
        (visitor(name="guest"), "its manifest calls it guest"),
        (visitor(hooks=("send", "bill")), "this house has no hook bill"),
        ("", "cannot be imported (AttributeError"),
        ("MANIFEST = 5", "is not a manifest"),
        ("import nowhere_at_all", "cannot be imported (ModuleNotFoundError"),
        ("raise SystemExit(1)", "cannot be imported (SystemExit"),
        ("def", "cannot be imported (SyntaxError"),
        (visitor(hooks=5), "cannot be imported (TypeError"),
        (MUTE, "cannot be imported (Mute: it does not say why)"),
        ("raise GeneratorExit('gone')", "cannot be imported (GeneratorExit: gone)"),
    ],
)
def test_an_unfit_plugin_is_listed_with_the_reason(offer, init: str, told: str) -> None:
    one = offer(init)
    assert one.manifest is None
    assert told in one.refused
    with pytest.raises(LookupError, match=r"it|this house"):
        registry.load(one, {})


def test_the_others_are_found_beside_a_broken_one(offer) -> None:
    offer("raise RuntimeError('broken')")
    fit = {one.name for one in registry.found() if one.manifest}
    assert fit >= FOLDERS


def test_a_name_nobody_has_is_refused_with_a_sentence() -> None:
    assert registry.named("nobody").refused == "no plugin nobody was found."


def test_what_a_plugin_makes_is_handed_on(monkeypatch: pytest.MonkeyPatch) -> None:
    one = installed(monkeypatch, lambda options: ("made", options))
    assert registry.load(one, {}) == ("made", {})
