"""Every published row and every scenario has its line in an index, and each line leads to tests that exist."""

import csv
import re
from pathlib import Path

import pytest

from tests.house.tree import ROOT

ROWS = ROOT / "tests" / "outside" / "ROWS.csv"
SCENARIOS = ROOT / "tests" / "journeys" / "SCENARIOS.csv"
# Rows of published values by their subject, and how many there are of each; what is left out would be missed here.
COUNTS = {
    "SUN": 17,
    "DEW": 18,
    "HEAT": 10,
    "COLD": 3,
    "WBGT": 3,
    "FILM": 13,
    "AREA": 3,
    "CURE": 6,
    "VN": 3,
    "HIN": 3,
    "CAL": 11,
    "GEO": 12,
}


def lines(path: Path) -> list[dict[str, str]]:
    with path.open(newline="") as table:
        return list(csv.DictReader(table))


BOTH = [
    pytest.param(row, key, because, id=row[key])
    for path, key, because in (
        (ROWS, "row", "not_computed_because"),
        (SCENARIOS, "scenario", "not_whole_because"),
    )
    for row in lines(path)
]


def test_no_published_row_is_left_out():
    found = [row["row"] for row in lines(ROWS)]
    assert len(set(found)) == len(found)
    subjects = [name.partition("-")[0] for name in found]
    assert {one: subjects.count(one) for one in subjects} == COUNTS


def test_no_scenario_is_left_out():
    assert [row["scenario"] for row in lines(SCENARIOS)] == [
        f"A{number}" for number in range(1, 41)
    ]


@pytest.mark.parametrize(("row", "key", "because"), BOTH)
def test_a_line_leads_to_tests_or_says_why_there_are_none(row, key, because):
    assert row["what"]
    assert row["tests"] or row[because], f"{row[key]} has neither test nor reason"


@pytest.mark.parametrize(("row", "key", "because"), BOTH)
def test_each_test_of_a_line_exists(row, key, because):
    for told in row["tests"].split():
        path, _, name = told.partition("::")
        text = (ROOT / path).read_text()
        assert re.search(rf"^def {re.escape(name)}\(", text, re.MULTILINE), told
