"""The plugin written out on the developers' page is found, keeps the contract and answers as it says."""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import plugins
from dispatch.hooks import registry, testing
from tests.house.tree import ROOT
from tests.plugins.asks import NY, VETO_ASK, WEEK

_FILE = re.compile(
    r"^`plugins/(no_noise/[\w.]+)`\n\n```\w+\n(.*?)^```$", re.MULTILINE | re.DOTALL
)


@pytest.fixture
def written(tmp_path, monkeypatch) -> Iterator[Path]:
    """Put the page's files beside the shipped plugins, for as long as the test runs."""
    files = dict(_FILE.findall((ROOT / "DEVELOPERS.md").read_text()))
    assert set(files) == {
        f"no_noise/{n}" for n in ("__init__.py", "plugin.py", "README.md")
    }
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    monkeypatch.setattr(plugins, "__path__", [*plugins.__path__, str(tmp_path)])
    yield tmp_path / "no_noise"
    for name in [name for name in sys.modules if name.startswith("plugins.no_noise")]:
        del sys.modules[name]


def test_the_example_keeps_the_contract(written):
    one = registry.named("no_noise")
    readme = (written / "README.md").read_text()
    assert testing.complaints(one, {"from_hour": 9}, readme) == ()


def test_the_example_forbids_each_morning_of_the_week(written):
    one = registry.named("no_noise")
    said = testing.answer(one, {"from_hour": 8}, "vetoes", VETO_ASK).vetoes
    assert len(said) == 7
    assert said[0].span.start == WEEK.start
    assert {veto.span.end.astimezone(NY).hour for veto in said} == {8}
    assert said[0].sentence == "the harbour is to be quiet before 08:00"
