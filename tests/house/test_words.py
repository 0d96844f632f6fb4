"""Every setting and command is written down, and the way in is short."""

import ast
import re

import pytest

from tests.house.tree import DISPATCH, ROOT, python_files

OPERATORS = (ROOT / "deploy" / "OPERATORS.md").read_text()
README = (ROOT / "README.md").read_text()
READERS = {"text", "number", "flag"}
COMMANDS = sorted(
    path.stem
    for path in (DISPATCH / "cli" / "management" / "commands").glob("*.py")
    if not path.stem.startswith("_")
)


def settings_read() -> list[str]:
    """Return the name of every variable that one of the three readers is asked for."""
    trees = (ast.parse(path.read_text()) for path in python_files("config"))
    calls = (
        node
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and node.args
    )
    return sorted(
        {
            call.args[0].value
            for call in calls
            if isinstance(call.func, ast.Attribute)
            and call.func.attr in READERS
            and isinstance(call.args[0], ast.Constant)
        }
    )


def test_there_are_settings_and_commands_to_look_for():
    assert "DATABASE_URL" in settings_read()
    assert "serve" in COMMANDS


@pytest.mark.parametrize("name", settings_read())
def test_each_setting_has_its_line_on_the_operators_page(name):
    assert f"| `{name}` |" in OPERATORS


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_is_on_the_operators_page(name):
    assert f"`{name}" in OPERATORS


def test_the_environment_is_read_by_the_three_readers_alone():
    allowed = {DISPATCH / "config" / "env.py"}
    readers = re.compile(r"os\.environ\[|os\.environ\.get\(|getenv")
    found = [
        str(path.relative_to(ROOT))
        for path in DISPATCH.rglob("*.py")
        if path not in allowed and readers.search(path.read_text())
    ]
    assert found == []


def test_the_readme_opens_with_one_paragraph_and_holds_both_commands():
    title, _, rest = README.partition("\n")
    opening = rest.strip().split("\n\n")[0]
    assert title.startswith("# ")
    assert len(opening.split()) >= 25
    assert not opening.startswith(("#", "-", "`", "|"))
    assert "sh deploy/demo" in README
    assert "sh deploy/test" in README
