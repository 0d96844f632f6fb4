"""Every folder of plugins keeps the contract of the socket."""

from pathlib import Path

import pytest

from dispatch.hooks import testing
from tests.plugins.asks import asks, found, options, ready

HERE = Path(__file__).parent
FOLDERS = sorted(
    path.parent for path in (HERE.parents[1] / "plugins").glob("*/__init__.py")
)


def test_there_are_plugins_to_look_at() -> None:
    assert {"notify_file", "weather_file", "weather_veto"} <= {p.name for p in FOLDERS}


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_a_plugin_keeps_the_contract(folder: Path, tmp_path: Path) -> None:
    readme = (folder / "README.md").read_text()
    given = options(folder.name, tmp_path)
    assert testing.complaints(found(folder.name), given, readme) == ()


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_a_plugin_answers_what_it_is_asked(folder: Path, tmp_path: Path) -> None:
    one = found(folder.name)
    assert one.manifest is not None
    with ready(folder.name, tmp_path) as given:
        for hook in one.manifest.hooks:
            testing.answer(one, given, hook, asks(folder.name, hook))


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_a_plugin_has_a_test_of_its_own(folder: Path) -> None:
    assert (HERE / f"test_{folder.name}.py").exists()
