"""Walks from a week that people were told of: once settled they go out at other prices, and come back.

Such a walk stays near what was told, and soon takes no step any more: a boat that was left out stays
out, as every way to let her in costs more at first than it saves. So for a while each job is worth more
or less than it is, those that were told of and left out much more; then the true prices count again.
The week found at true prices is the best one; a detour that led nowhere is forgotten.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dispatch.planner.core.shapes import Given, Week
from dispatch.planner.solve.schedule import NEAR, SETTLED
from dispatch.planner.solve.walker import Walker

# The share of the effort before the first detour, and the steps for each stage that it takes at least; those of either half of one.
_SETTLING, _LEAST, _HALF = 0.3, 10, 12
# Halves of a detour that must have time to end, or walks stay where they are.
_WORTH_IT = 1.5
# How warm walks are while out, in units of what a typical stage costs, and how much colder out and back end.
_OUT, _COOLED = 0.3, 1 / 30
# What a job is worth in times of its worth by luck, and one that people were told of and that is left out.
_LUCK, _DEAR = (0.3, 1.0, 1.0, 3.0, 10.0), 20.0


class Detours:
    """When walks are how warm, and at which prices; each of them goes its own ways."""

    def __init__(self, given: Given, walkers: Sequence[Walker], seed: int) -> None:
        self.given, self.walkers = given, walkers
        self.out = False
        self._luck = np.random.default_rng(seed)
        self._turn = 0
        self._since, self._along = 0, 0.0
        self._top, self._fall = NEAR, SETTLED
        self._leg, self._share = _LEAST * int(given["n_stages"]), _SETTLING

    def heat(self, along: float, steps: int) -> float:
        """Return how warm walks are now: cold at the end of a leg."""
        return float(self._top * self._fall ** min(1.0, self._gone(along, steps)))

    def over(self, along: float, steps: int) -> bool:
        """Whether a leg has come to its end."""
        return self._gone(along, steps) >= 1

    def _gone(self, along: float, steps: int) -> float:
        """Return how much of a leg is gone; the last lasts as long as the effort."""
        total = steps / along if along > 0 else np.inf
        leg = max(self._leg, self._share * total)
        after = total - self._since - leg
        if not self.out and after < _WORTH_IT * _HALF * int(self.given["n_stages"]):
            return (along - self._along) / max(1e-9, 1 - self._along)
        return (steps - self._since) / max(1, leg)

    def turn(self, best: Week | None, along: float, steps: int) -> None:
        """Go out from the best week so far, or back from where the walks went."""
        self._since, self._along = steps, along
        if best is None:
            return
        self.out = not self.out
        for k, walker in enumerate(self.walkers):
            if self.out:
                walker.given = self._altered(best, dear=(self._turn + k) % 2 == 0)
                walker.forget(best)
            else:
                walker.given = self.given
                walker.forget(walker.best)
        self._turn += self.out
        self._leg, self._share = _HALF * int(self.given["n_stages"]), 0.0
        self._top, self._fall = (_OUT if self.out else NEAR), _COOLED

    def _altered(self, week: Week, *, dear: bool) -> Given:
        """Return what is given at other prices: those left out dear, or every job by luck."""
        given, many = self.given.copy(), int(self.given["n_jobs"])
        left = _left_out(self.given, week)
        times = np.where(left, _DEAR, 1.0)
        if not dear or not left.any():
            times = self._luck.choice(_LUCK, many)
        given["jobs"]["unfinished"][:many] *= times
        return given


def _left_out(given: Given, week: Week) -> NDArray[np.bool_]:
    """Return which jobs people were told of lack a visit now."""
    rows = given["stages"][: int(given["n_stages"])]
    chosen = week["chosen"][rows["job"]]
    here = (rows["variant"] < 0) | (rows["variant"] == chosen)
    lacks = (week["seen"]["route"][: len(rows)] < 0) & here & (rows["extra"] == 0)
    left = np.zeros(int(given["n_jobs"]), bool)
    told = left.copy()
    left[rows["job"][lacks]] = True
    told[rows["job"][rows["told"] >= 0]] = True
    return left & told
