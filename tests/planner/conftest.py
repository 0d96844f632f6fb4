"""Compiles the search before the first test that needs it, outside any test's time limit."""

from pathlib import Path

import pytest

from dispatch.planner.prepare import prepare

HERE = Path(__file__).parent


def pytest_collection_finish(session: pytest.Session) -> None:
    """Compile once, when tests of this room were collected."""
    if any(HERE in item.path.parents for item in session.items):
        prepare()
