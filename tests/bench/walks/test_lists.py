"""Each list goes out as CSV and comes in changed: tried row by row, a bad row told, then for real; nothing is stored before."""

import csv
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.bench.walks.hand import Hand


@dataclass(frozen=True, kw_only=True)
class Change:
    """A column of a list with a value to change to, and a column with a value that will not do."""

    name: str
    good: tuple[str, str]
    bad: tuple[str, str]


CHANGES = (
    Change(name="customers", good=("E-mail", "a@pell.example"), bad=("E-mail", "none")),
    Change(name="boats", good=("Hull colour", "deep green"), bad=("Length, ft", "x")),
    Change(name="jobs", good=("Note", "Mind the gate"), bad=("Condition", "7")),
    Change(name="people", good=("Initials", "ZZ"), bad=("Born", "soon")),
    Change(name="cans", good=("Cans", "3"), bad=("Cans", "many")),
    Change(name="places", good=("At the gate", "Ring"), bad=("Time zone", "Pell")),
)


def rows(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8-sig", newline="") as lines:
        return list(csv.DictReader(lines))


def written(file: Path, lines: list[dict[str, str]]) -> Path:
    with file.open("w", encoding="utf-8", newline="") as out:
        made = csv.DictWriter(out, list(lines[0]))
        made.writeheader()
        made.writerows(lines)
    return file


def tried(hand: Hand, file: Path) -> None:
    hand.attach("CSV file", file)
    hand.press("Try it")


def changed(hand: Hand, change: Change, folder: Path) -> None:
    """Take one list out, bring it in with a bad row and then with a good one, and take it out again."""
    out = f"Take {change.name} out"
    kept = rows(hand.fetch(out))
    first, *rest = kept
    hand.go(f"Bring {change.name} in")
    bad = [first | dict([change.bad]), *rest]
    tried(hand, written(folder / "bad.csv", bad))
    hand.see("Nothing can be brought in yet")
    hand.see("1 wrong. Nothing is stored yet.")
    hand.see(change.bad[0].partition(",")[0], within="Nothing can be brought in yet")
    good = [first | dict([change.good]), *rest]
    tried(hand, written(folder / "good.csv", good))
    hand.see(f"0 new, 1 changed, {len(rest)} as they are, 0 wrong.")
    hand.press("Bring it in")
    hand.see("Brought in: 1 row new or changed.")
    assert rows(hand.fetch(out)) == good


@pytest.mark.parametrize("half", [CHANGES[:3], CHANGES[3:]], ids=["boats", "people"])
def test_each_list_goes_out_and_comes_in(
    owner: Hand, tmp_path: Path, half: tuple[Change, ...]
) -> None:
    owner.go("Settings")
    owner.go("Take lists out and bring them in")
    for change in half:
        changed(owner, change, tmp_path)
