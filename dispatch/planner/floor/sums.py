"""A linear programme written down: rows with limits, plain variables, and what pieces add to rows."""

from dataclasses import dataclass, field

INF = float("inf")


@dataclass(kw_only=True, slots=True)
class Variable:
    """A plain variable with its limits, its cents and its entries by row."""

    low: float
    high: float
    cents: float
    entries: dict[int, float] = field(default_factory=dict)


@dataclass(kw_only=True, slots=True)
class Sums:
    """Rows, variables, and entries of pieces as (piece, row, amount).

    `finishes` are (piece, row): there the entry is minus what the visit's finish costs its job,
    which only the size of the team settles.
    """

    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    variables: list[Variable] = field(default_factory=list)
    entries: list[tuple[int, int, float]] = field(default_factory=list)
    finishes: list[tuple[int, int]] = field(default_factory=list)
    constant: float = 0.0

    def row(self, low: float, high: float) -> int:
        """Add a row `low <= ... <= high` and return its number."""
        self.low.append(low)
        self.high.append(high)
        return len(self.low) - 1

    def variable(self, high: float, cents: float) -> Variable:
        """Add a variable from 0 to `high` and return it."""
        made = Variable(low=0.0, high=high, cents=cents)
        self.variables.append(made)
        return made

    def less(self, row: int, amount: float) -> None:
        """Move a constant on the left of a row to its right side."""
        self.low[row] -= amount
        self.high[row] -= amount
