"""What is asked for is what is pinned, by hash."""

import re
import tomllib

import pytest

from tests.house.tree import ROOT

DEPLOY = ROOT / "deploy"
LOCKS = ("requirements", "requirements-test")


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def asked(stem: str) -> set[str]:
    """Return the names in the .in file, and in the one it includes."""
    names: set[str] = set()
    for line in (DEPLOY / f"{stem}.in").read_text().splitlines():
        if line.startswith("-r "):
            names |= asked(line.removeprefix("-r ").removesuffix(".in"))
        elif found := re.match(r"[A-Za-z0-9._-]+", line):
            names.add(plain(found.group()))
    return names


def pinned(stem: str) -> dict[str, str]:
    """Return each locked name with its version."""
    text = (DEPLOY / f"{stem}.txt").read_text()
    return {
        plain(n): v
        for n, v in re.findall(
            r"^([\w.-]+)(?:\[[^\]]*\])?==([^\s;\\]+)", text, re.MULTILINE
        )
    }


@pytest.mark.parametrize("stem", LOCKS)
def test_every_asked_package_is_locked(stem):
    assert asked(stem) - set(pinned(stem)) == set()


@pytest.mark.parametrize("stem", LOCKS)
def test_every_locked_package_has_a_hash(stem):
    entries = re.split(
        r"^(?=[\w.-]+(?:\[[^\]]*\])?==)",
        (DEPLOY / f"{stem}.txt").read_text(),
        flags=re.MULTILINE,
    )
    without = [e.split("\n")[0] for e in entries[1:] if "--hash=sha256:" not in e]
    assert without == []


def test_what_is_tested_is_what_is_run():
    run, tested = pinned("requirements"), pinned("requirements-test")
    assert {n: v for n, v in run.items() if tested.get(n) != v} == {}


def test_the_project_takes_its_dependencies_from_the_same_file():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    assert project["project"]["dynamic"] == ["dependencies"]
    named = project["tool"]["setuptools"]["dynamic"]["dependencies"]["file"]
    assert named == ["deploy/requirements.in"]
    assert (
        (ROOT / project["project"]["license-files"][0])
        .read_text()
        .lstrip()
        .startswith("Apache")
    )
