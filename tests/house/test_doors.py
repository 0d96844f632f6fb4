"""Doors read freely and write never: a write is an action."""

import ast
from pathlib import Path

import pytest

from tests.house.tree import ROOT, python_files

# What writes on a row or on a set of rows, and nowhere else in Django's or Python's common use.
ROW_WRITES = {
    "save",
    "delete",
    "bulk_create",
    "bulk_update",
    "get_or_create",
    "update_or_create",
}
# Words that sets of rows share with dicts and others: a write only after `.objects` or a filter.
SHARED_WRITES = {"create", "update", "add", "remove", "set", "clear"}
ROW_SETS = {"objects", "filter", "exclude", "all", "select_for_update"}


def writes(source: str) -> list[str]:
    """Return `line: word` for each call that writes rows."""
    calls = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call))
    return [
        f"{call.lineno}: {call.func.attr}"
        for call in calls
        if isinstance(call.func, ast.Attribute) and is_write(call.func)
    ]


def is_write(func: ast.Attribute) -> bool:
    if func.attr in ROW_WRITES:
        return True
    return func.attr in SHARED_WRITES and bool(ROW_SETS & names_before(func.value))


def names_before(node: ast.expr) -> set[str]:
    """Return the words of the dotted chain that ends here."""
    names: set[str] = set()
    while isinstance(node, ast.Attribute | ast.Call):
        if isinstance(node, ast.Attribute):
            names.add(node.attr)
            node = node.value
        else:
            node = node.func
    return names


@pytest.mark.parametrize(
    "path", python_files("web", "api", "cli"), ids=lambda p: str(p.relative_to(ROOT))
)
def test_a_door_writes_no_row(path: Path):
    assert writes(path.read_text()) == []


@pytest.mark.parametrize(
    "line",
    [
        "job.save()",
        "Job.objects.create(name='x')",
        "Job.objects.filter(pk=1).update(name='x')",
        "Job.objects.filter(pk=1).exclude(x=2).delete()",
        "job.stages.all().update(x=1)",
        "Token.objects.get_or_create(user=u)",
    ],
)
def test_the_check_knows_a_write(line):
    assert writes(line)


@pytest.mark.parametrize(
    "line", ["seen.add(1)", "context.update(x=1)", "Job.objects.get(pk=1)"]
)
def test_the_check_lets_reading_pass(line):
    assert not writes(line)
