"""The history over the machines' door: newest first, page by page, by subject."""

import pytest

from dispatch.actions import history
from tests.actions import shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def lines(db):
    shop.outfit()
    for number in range(5):
        history.write("note", f"job j{number % 2}", f"Line {number}.")


def sentences(page):
    return [entry["sentence"] for entry in page["entries"]]


def test_pages_join_without_gap_or_double(owner, lines):
    first = owner.get("/api/history/?limit=3").json()
    assert sentences(first) == ["Line 4.", "Line 3.", "Line 2."]
    second = owner.get(f"/api/history/?limit=3&before={first['before']}").json()
    assert sentences(second) == ["Line 1.", "Line 0."]
    assert second["before"] is None


def test_one_subjects_lines(owner, lines):
    page = owner.get("/api/history/", {"subject": "job j1"}).json()
    assert sentences(page) == ["Line 3.", "Line 1."]


@pytest.mark.parametrize(
    "query", ["limit=0", "limit=501", "before=x", f"before={2**63}"]
)
def test_a_wrong_page_is_400(owner, lines, query):
    assert owner.get(f"/api/history/?{query}").status_code == 400
