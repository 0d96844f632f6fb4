"""Plugins are found without being named, and the unfit are listed with the reason."""

import os
import sys
from importlib.metadata import EntryPoint, EntryPoints
from pathlib import Path
from time import monotonic

import pytest

from dispatch.hooks import apart, registry
from dispatch.hooks.manifest import InvalidOption
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


HANGS = "from threading import Event\nEvent().wait(60)"
KILLS = "import os, signal\nos.kill(os.getpid(), signal.SIGKILL)"
LEAVES = "import os\nos._exit(0)"


@pytest.fixture
def hasty(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(registry, "IMPORT_S", 2.0)
    monkeypatch.setattr(registry, "CHECK_S", 0.8)


@pytest.mark.usefixtures("hasty")
@pytest.mark.parametrize(
    ("init", "told"),
    [
        (HANGS, "it did not answer within 2 s and was ended."),
        (KILLS, "it ended its process before it answered."),
        (LEAVES, "it ended its process before it answered."),
    ],
)
def test_an_import_that_never_ends_or_takes_its_process_along_holds_nobody(
    offer, init: str, told: str
) -> None:
    begun = monotonic()
    one = offer(init)
    # It would hang for a minute.
    assert monotonic() - begun < 30
    assert told in one.refused
    assert {other.name for other in registry.found() if other.manifest} >= FOLDERS


@pytest.mark.usefixtures("hasty")
def test_one_that_was_late_is_not_waited_for_each_time(
    offer, monkeypatch: pytest.MonkeyPatch
) -> None:
    offer(HANGS)
    processes = []
    each = apart.each
    monkeypatch.setattr(
        apart, "each", lambda *given: processes.append(given) or each(*given)
    )
    assert registry.named("visitor").refused
    assert processes == []


def test_one_that_was_mended_is_found_a_while_later(
    offer, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = offer("raise RuntimeError('broken')")
    package = Path(sys.path[0]) / one.module / "__init__.py"
    package.write_text(visitor())
    assert registry.named("visitor").refused
    later = monotonic() + registry._AGAIN_S + 1
    monkeypatch.setattr(registry, "monotonic", lambda: later)
    assert registry.named("visitor").manifest is not None


def test_finding_a_plugin_runs_nothing_of_it_in_this_process(offer) -> None:
    one = offer(visitor())
    assert one.manifest is not None
    assert one.module not in sys.modules


CHECKED = "def check(given):\n    {does}\n" + VISITOR.replace(")\n", ", check=check)\n")


@pytest.mark.usefixtures("hasty")
@pytest.mark.parametrize(
    ("does", "told"),
    [
        ("return 'they do not go together.'", "they do not go together."),
        ("raise KeyError('x')", r"cannot be checked \(KeyError\)"),
        ("import threading; threading.Event().wait(60)", "did not answer within"),
        ("import os; os._exit(0)", "ended its process before it answered"),
    ],
)
def test_a_check_of_options_is_done_apart_and_in_time(
    offer, does: str, told: str
) -> None:
    init = CHECKED.format(does=does, name="visitor", socket=SOCKET, hooks=("send",))
    one = offer(init)
    with pytest.raises(InvalidOption, match=told):
        registry.validate(one, {})


def test_a_check_that_finds_nothing_lets_the_options_pass(offer) -> None:
    init = CHECKED.format(
        does="return ''", name="visitor", socket=SOCKET, hooks=("send",)
    )
    one = offer(init)
    assert one.checks
    assert registry.validate(one, {}) == {}
