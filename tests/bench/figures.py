"""What was measured, one figure a line, and the short table of means beside what is wished for."""

import csv
from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields
from itertools import groupby
from pathlib import Path
from statistics import mean

TARGETS = Path(__file__).parent / "TARGETS.csv"


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """One figure of one run; `broken` counts rules the outside judge found broken, `note` says what went wrong."""

    row: str
    week: str
    seed: int
    seconds: float
    name: str
    value: float | None
    total: int | None = None
    broken: int = 0
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Target:
    """What a mean must reach, and what it aims at; `at` is `most` or `least`."""

    row: str
    name: str
    at: str
    must: float
    aim: float

    def verdict(self, value: float) -> str:
        """Return `aim`, `must` or `NO`."""
        sign = 1 if self.at == "most" else -1
        if sign * value <= sign * self.aim:
            return "aim"
        return "must" if sign * value <= sign * self.must else "NO"


def targets() -> dict[tuple[str, str], Target]:
    """Return what each row's figures should be."""
    with TARGETS.open() as file:
        rows = list(csv.DictReader(file))
    wished = [
        Target(
            row=r["row"],
            name=r["figure"],
            at=r["at"],
            must=float(r["must"]),
            aim=float(r["aim"]),
        )
        for r in rows
    ]
    return {(one.row, one.name): one for one in wished}


def write(folder: Path, figures: list[Figure]) -> None:
    """Write every figure to figures.csv and the means to table.txt, anew each time."""
    with (folder / "figures.csv").open("w", newline="") as file:
        lines = csv.DictWriter(file, [field.name for field in fields(Figure)])
        lines.writeheader()
        lines.writerows(asdict(one) for one in figures)
    (folder / "table.txt").write_text(table(figures))


def table(figures: list[Figure]) -> str:
    """Return a line for each row's figure: runs, mean, worst, must, aim, holds."""
    head = f"{'row':<16}{'figure':<16}{'runs':>5}{'mean':>9}{'worst':>9}{'must':>7}{'aim':>7}  holds\n"
    wished = targets()
    order = sorted(figures, key=lambda one: (one.row, one.name))
    groups = groupby(order, key=lambda one: (one.row, one.name))
    return head + "".join(
        _line(key, list(runs), wished.get(key)) for key, runs in groups
    )


def _line(key: tuple[str, str], runs: list[Figure], wish: Target | None) -> str:
    values = [one.value for one in runs if one.value is not None]
    start = f"{key[0]:<16}{key[1]:<16}{len(runs):>5}"
    if not values:
        return f"{start}  nothing measured: {runs[0].note}\n"
    worst = max(values) if wish is None or wish.at == "most" else min(values)
    start += f"{mean(values):>9.2f}{worst:>9.2f}"
    must, aim = (f"{wish.must:g}", f"{wish.aim:g}") if wish else ("", "")
    return f"{start}{must:>7}{aim:>7}  {_holds(runs, mean(values), wish)}\n"


def _holds(runs: Iterable[Figure], value: float, wish: Target | None) -> str:
    wrong = sum(one.broken > 0 or one.value is None for one in runs)
    if wrong:
        return f"NO: {wrong} runs broke a rule or gave no plan"
    return wish.verdict(value) if wish else ""
