"""A file is one concept, a room's README one page."""

import pytest

from tests.house.tree import DISPATCH, ROOMS, ROOT, project_files

LINES_MOST = 300
README_LINES_MOST = 30
OURS = [
    path
    for path in project_files()
    if path.suffix == ".py"
    and (path.is_relative_to(DISPATCH) or path.is_relative_to(ROOT / "plugins"))
    and "migrations" not in path.parts
]
PLUGINS = sorted(
    p for p in (ROOT / "plugins").iterdir() if (p / "__init__.py").exists()
)


@pytest.mark.parametrize("path", OURS, ids=lambda p: str(p.relative_to(ROOT)))
def test_no_file_is_longer_than_300_lines(path):
    assert len(path.read_text().splitlines()) <= LINES_MOST


@pytest.mark.parametrize("room", [*ROOMS, *PLUGINS], ids=lambda p: p.name)
def test_each_room_and_plugin_says_what_it_is_in_thirty_lines(room):
    readme = room / "README.md"
    assert readme.exists(), f"{room.name} has no README.md"
    lines = readme.read_text().splitlines()
    assert 3 <= len(lines) <= README_LINES_MOST
