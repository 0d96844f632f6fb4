"""What any worths of the rows prove: cents that no week can go below, however they were come by."""

from collections.abc import Mapping

import numpy as np

from dispatch.planner.floor.shapes import Floats
from dispatch.planner.floor.sums import Sums, Variable


class Worths:
    """The plain part of a programme, priced by worths of its rows (a Lagrangean bound)."""

    def __init__(self, sums: Sums) -> None:
        self.low, self.high = np.array(sums.low), np.array(sums.high)
        self.constant, plain = sums.constant, sums.variables
        self.number = {id(v): i for i, v in enumerate(plain)}
        entries = [(i, r, a) for i, v in enumerate(plain) for r, a in v.entries.items()]
        self.variable = np.array([i for i, _, _ in entries], np.int64)
        self.row = np.array([r for _, r, _ in entries], np.int64)
        self.amount = np.array([a for _, _, a in entries], np.float64)
        self.cents = np.array([v.cents for v in plain], np.float64)
        self.least = np.array([v.low for v in plain], np.float64)
        self.most = np.array([v.high for v in plain], np.float64)

    def signed(self, worth: Floats) -> Floats:
        """Return the worths without those that a row without that limit cannot have."""
        worth = worth.copy()
        worth[np.isinf(self.low) & (worth > 0)] = 0.0
        worth[np.isinf(self.high) & (worth < 0)] = 0.0
        return worth

    def proves(self, worth: Floats, fixed: Mapping[int, float]) -> float:
        """Return the cents proven, before what the outings add; `fixed` are variables held at a value."""
        limit = np.where(worth > 0, self.low, self.high)
        rows = float((worth * np.where(worth == 0, 0.0, limit)).sum())
        size = len(self.cents)
        back = np.bincount(self.variable, self.amount * worth[self.row], size)
        reduced, least, most = self.cents - back, self.least, self.most
        if fixed:
            least, most = least.copy(), most.copy()
            for i, value in fixed.items():
                least[i] = most[i] = value
        plain = np.minimum(reduced * least, reduced * most)
        return self.constant + rows + float(plain.sum())

    def of(self, variable: Variable) -> int:
        """Return a variable's number."""
        return self.number[id(variable)]
