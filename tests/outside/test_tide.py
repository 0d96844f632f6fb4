"""Heights of the tide against UTide 0.4.0, an open library for the analysis of tides (D. L. Codiga's method).

``tables/tide_heights.csv`` was computed with its node factors and equilibrium arguments (the tables of the Institute
of Ocean Sciences, M. Foreman) at latitude 44 N for the constants below, over a mean level of 1.5 m. The constants are
made up in the size of a half-daily coast. It corrects for the node by other series than ours: 2 cm are granted.
"""

import csv
from datetime import datetime
from pathlib import Path

import pytest

from plugins.tide_gate.harmonics import KINDS, Constant, height_m

TABLE = Path(__file__).parent / "tables" / "tide_heights.csv"
MADE_UP = {
    "M2": (1.36, 104.0),
    "S2": (0.21, 139.0),
    "N2": (0.31, 72.0),
    "K1": (0.14, 201.0),
    "O1": (0.11, 183.0),
    "P1": (0.045, 201.0),
    "K2": (0.06, 137.0),
    "M4": (0.012, 40.0),
    "MS4": (0.01, 95.0),
}
CONSTANTS = [
    Constant(name=name, amplitude_m=amplitude, lag_deg=lag)
    for name, (amplitude, lag) in MADE_UP.items()
]
ROWS = list(csv.DictReader(TABLE.read_text().splitlines()))
# Degrees an hour, as every list of constituents prints them (International Hydrographic Organization).
SPEEDS = {
    "SSA": 0.0821373,
    "MM": 0.5443747,
    "MF": 1.0980331,
    "Q1": 13.3986609,
    "O1": 13.9430356,
    "P1": 14.9589314,
    "K1": 15.0410686,
    "J1": 15.5854433,
    "2N2": 27.8953548,
    "MU2": 27.9682084,
    "N2": 28.4397295,
    "NU2": 28.5125831,
    "M2": 28.9841042,
    "T2": 29.9589333,
    "S2": 30.0,
    "K2": 30.0821373,
    "MN4": 57.4238337,
    "M4": 57.9682084,
    "MS4": 58.9841042,
    "M6": 86.9523127,
}
# Hour angle, moon, sun, moon's perigee, sun's perigee: degrees an hour.
RATES = (15.0, 0.5490165, 0.0410686, 0.0046418, 0.0000020)


def test_there_are_heights_of_four_years():
    assert len({row["at"][:4] for row in ROWS}) == 4
    assert max(float(row["height_m"]) for row in ROWS) > 2.7


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["at"])
def test_the_height_is_that_of_the_other_program(row):
    at = datetime.fromisoformat(row["at"])
    assert height_m(CONSTANTS, 1.5, at) == pytest.approx(
        float(row["height_m"]), abs=0.02
    )


@pytest.mark.parametrize("name", sorted(SPEEDS))
def test_a_constituent_turns_at_its_published_speed(name):
    turns = sum(n * rate for n, rate in zip(KINDS[name].doodson, RATES, strict=True))
    assert turns == pytest.approx(SPEEDS[name], abs=2e-6)
