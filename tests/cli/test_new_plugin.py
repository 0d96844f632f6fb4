"""`new_plugin` writes a plugin that works; one of a distribution of its own is built, installed and found."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.house.tree import ROOT


def run(*command: str | Path, **environment: str) -> str:
    """Run a program and return what it printed; a failure shows both."""
    ended = subprocess.run(
        [str(part) for part in command],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=os.environ | environment,
        check=False,
    )
    assert ended.returncode == 0, ended.stdout + ended.stderr
    return ended.stdout


def test_a_plugin_beside_the_shipped_ones_passes_its_own_test(
    settings, tmp_path, capsys
):
    settings.BASE_DIR = tmp_path
    call_command("new_plugin", "late_shift")
    assert "turn late_shift on under Plugins" in capsys.readouterr().out
    folder = tmp_path / "plugins" / "late_shift"
    assert sorted(path.name for path in folder.iterdir()) == [
        "README.md",
        "__init__.py",
        "plugin.py",
    ]
    # The house's plugins and the new one are one package for as long as this runs.
    (tmp_path / "sitecustomize.py").write_text(
        f"import plugins\nplugins.__path__.append({str(folder.parent)!r})\n"
    )
    test = tmp_path / "tests" / "plugins" / "test_late_shift.py"
    where = os.pathsep.join((str(tmp_path), str(ROOT)))
    own = ("-c", os.devnull, "-p", "no:django", "-p", "no:randomly", "-q")
    told = run(
        sys.executable,
        "-m",
        "pytest",
        *own,
        "--rootdir",
        tmp_path,
        test,
        PYTHONPATH=where,
    )
    assert "2 passed" in told


@pytest.mark.parametrize(
    ("apart", "readme", "test"),
    [
        (
            False,
            "plugins/late_shift/README.md",
            "tests/plugins/test_late_shift.py",
        ),
        (True, "README.md", "tests/test_late_shift.py"),
    ],
)
def test_its_readme_names_its_test_where_that_is(
    settings, tmp_path, apart, readme, test
):
    """As the house asks of every plugin that ships; so one made here passes the house's checks as it is."""
    settings.BASE_DIR = tmp_path
    call_command("new_plugin", "late_shift", **({"apart": tmp_path} if apart else {}))
    assert f"Tests: `{test}`." in (tmp_path / readme).read_text()
    assert '"late_shift"' in (tmp_path / test).read_text()


def test_what_is_written_keeps_the_houses_own_style(settings, tmp_path):
    settings.BASE_DIR = tmp_path
    call_command("new_plugin", "dew_alarm")
    files = sorted(tmp_path.rglob("*.py"))
    assert len(files) == 3
    # Line lengths and import order follow the name, which is the author's.
    rules = ("--config", ROOT / "pyproject.toml", "--ignore", "I001,INP001")
    own = [path for path in files if "tests" not in path.parts]
    run(sys.executable, "-m", "ruff", "check", *rules, *own)


@pytest.mark.timeout(120)
def test_a_distribution_of_its_own_is_installed_by_pip_and_found(tmp_path):
    """Into a fresh environment that has the house beside it; nothing of the house is touched."""
    call_command("new_plugin", "visitor_check", "--apart", tmp_path / "own")
    fresh = tmp_path / "fresh"
    run(sys.executable, "-m", "venv", "--without-pip", fresh)
    python = fresh / "bin" / "python"
    (site,) = fresh.glob("lib/python*/site-packages")
    here = Path(pytest.__file__).parent.parent
    (site / "house.pth").write_text(f"{ROOT}\n{here}\n")
    offline = ("--no-index", "--no-deps", "--no-build-isolation", "--quiet")
    run(
        sys.executable,
        "-m",
        "pip",
        "--python",
        python,
        "install",
        *offline,
        tmp_path / "own",
    )
    told = run(python, "-c", _LOOK)
    assert told.split() == ["leeboard_visitor_check", "vetoes", "2"]


_LOOK = """
from datetime import UTC, datetime
from dispatch.hooks import guard, registry
from dispatch.hooks.guard import Conduct
from tests.plugins.asks import VETO_ASK
from dataclasses import replace
from dispatch.trade.spans import Span
one = registry.named("visitor_check")
assert not one.refused, one.refused
span = Span(datetime(2027, 5, 24, 12, tzinfo=UTC), datetime(2027, 5, 26, 12, tzinfo=UTC))
ask = replace(VETO_ASK, horizon=span)
out = guard.call_apart(one, {}, "vetoes", ask, now=span.start, conduct=Conduct())
assert not out.fault, out.fault
print(one.module, *one.manifest.hooks, len(out.answer.vetoes))
"""


@pytest.mark.parametrize(
    "name", ["Late", "late-shift", "2late", "a" * 41, "../late", ""]
)
def test_a_name_that_is_none_is_refused(name, settings, tmp_path):
    settings.BASE_DIR = tmp_path
    with pytest.raises(CommandError, match="is no name for a plugin"):
        call_command("new_plugin", name)
    assert list(tmp_path.iterdir()) == []


def test_nothing_that_is_there_is_touched(settings, tmp_path):
    settings.BASE_DIR = tmp_path
    call_command("new_plugin", "late_shift")
    plugin = tmp_path / "plugins" / "late_shift" / "plugin.py"
    plugin.write_text("mine")
    (plugin.parent / "README.md").unlink()
    with pytest.raises(CommandError, match=r"is there already\. Take another name"):
        call_command("new_plugin", "late_shift")
    assert plugin.read_text() == "mine"
    assert not (plugin.parent / "README.md").exists()
