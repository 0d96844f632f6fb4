"""The week's linear programme under GLOP: columns come in as they are found."""

from collections.abc import Iterable, Mapping

import numpy as np
from ortools.linear_solver import pywraplp

from dispatch.planner.floor.columns import Column
from dispatch.planner.floor.shapes import Floats
from dispatch.planner.floor.sums import Sums


class Relaxed:
    """A programme over plain variables and outings; each solve starts from the last one's answer."""

    def __init__(self, sums: Sums, spare: Mapping[int, float]) -> None:
        """`spare` are rows that may be filled for so many cents while no outing does it."""
        self.sums, self.spare = sums, spare
        self.known: dict[Column, None] = {}
        self._fixed: dict[int, float] = {}
        self._build()

    def _build(self) -> None:
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        far = self.solver.infinity()
        self.rows = [
            self.solver.Constraint(max(low, -far), min(high, far))
            for low, high in zip(self.sums.low, self.sums.high, strict=True)
        ]
        self.objective = self.solver.Objective()
        self.objective.SetMinimization()
        for plain in self.sums.variables:
            self._add(plain.high, plain.cents, plain.entries.items())
        for row, cents in self.spare.items():
            self._add(far, cents, [(row, 1.0)])
        for column in self.known:
            self._add(far, column.cents, column.entries)
        self.fix(self._fixed)

    def _add(
        self, high: float, cents: float, entries: Iterable[tuple[int, float]]
    ) -> None:
        made = self.solver.NumVar(0.0, high, "")
        self.objective.SetCoefficient(made, cents)
        for row, amount in entries:
            self.rows[row].SetCoefficient(made, amount)

    def fix(self, fixed: Mapping[int, float]) -> None:
        """Hold these plain variables at a value and let go of all others."""
        for i in self._fixed.keys() - fixed.keys():
            self.solver.variable(i).SetBounds(0.0, self.sums.variables[i].high)
        for i, value in fixed.items():
            self.solver.variable(i).SetBounds(value, value)
        self._fixed = dict(fixed)

    def add(self, columns: Iterable[Column]) -> int:
        """Take in outings and return how many were new."""
        new = [c for c in dict.fromkeys(columns) if c not in self.known]
        for column in new:
            self.known[column] = None
            self._add(self.solver.infinity(), column.cents, column.entries)
        return len(new)

    def solve(self) -> tuple[float, Floats] | None:
        """Return the least cents and the worth of each row; None when that did not work out."""
        if self.solver.Solve() != pywraplp.Solver.OPTIMAL:
            self._build()
            if self.solver.Solve() != pywraplp.Solver.OPTIMAL:
                return None
        worth = np.array([row.dual_value() for row in self.rows], np.float64)
        return self.objective.Value() + self.sums.constant, worth

    def value(self, variable: int) -> float:
        """Return a plain variable's value in the last answer."""
        return float(self.solver.variable(variable).solution_value())
