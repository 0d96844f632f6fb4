"""Divides a large week among walks: each changes the days of its own vans only, then all are joined.

A step costs by the van-days it looks at, and what it moves lies near together: in a week of hundreds
of van-days, walks that each see the part around one place for a while, another part next, get
through several times the steps.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dispatch.planner.core.shapes import Given, Week
from dispatch.planner.solve.flatten import CLOSED
from dispatch.planner.solve.ties import Ties, bonds
from dispatch.planner.solve.walker import Walker

Numbers = NDArray[np.int64]
Flags = NDArray[np.bool_]

# Van-days that a walk is given at a time, and from how many times as many on a week is divided.
_PART, _PARTS = 100, 2.5
_BLUR = 0.5  # how much farther luck makes a van
NOBODY = -1


def is_large(given: Given) -> bool:
    """Whether a week has so many van-days that walks had better see a part at a time."""
    van_days = given["n_vans"] * given["n_days"]
    return bool(given["n_stages"] > 0 and van_days >= _PART * _PARTS)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Share:
    """What one walk may change: van-days by number, stages by what binds them, trailers."""

    routes: Numbers
    bonds: Flags
    trailers: Flags


class Shares:
    """Deals the week out to walks, and joins what they made of it."""

    def __init__(self, given: Given, walkers: Sequence[Walker], seed: int) -> None:
        self.given, self.walkers = given, walkers
        self._bonds = bonds(given)
        self.luck = np.random.default_rng(seed)
        self._own = [given.copy() for _ in walkers]
        self._week = walkers[0].now
        self._shares: list[_Share] = []

    def deal(self) -> None:
        """Let each walk go on from the cheapest week among them, in its own part of it."""
        self._week = min(self.walkers, key=lambda w: w.now_cents).now.copy()
        ties = Ties(self.given, self._week, self._bonds)
        self._shares = self._dealt(ties)
        hires = self.luck.integers(len(self.walkers), size=int(self.given["n_people"]))
        for k, walker in enumerate(self.walkers):
            walker.given = self._bound(ties, k)
            walker.forget(self._fenced(k, hires))

    def join(self) -> None:
        """Let every walk go on from the week as all of them changed it; its best is the best of each."""
        for walker in self.walkers:
            walker.given = self.given
        best = self._joined([walker.best for walker in self.walkers])
        now = self._joined([walker.now for walker in self.walkers])
        for walker in self.walkers:
            walker.forget(best)
            walker.restart(now)

    def _dealt(self, ties: Ties) -> list[_Share]:
        """Return a part of the week for each walk; no trailer and no stages that bind each other are in two of them."""
        vans = self._vans(ties)
        bound = np.full(ties.n_bonds, NOBODY)
        trailers = np.full(int(self.given["n_trailers"]), NOBODY)
        owners = bound, trailers
        parts = [ties.apart(mine, owners, k) for k, mine in enumerate(vans)]
        ties.hand_out(bound, parts, self._blurred)
        free = trailers == NOBODY
        trailers[free] = self.luck.integers(len(vans), size=int(free.sum()))
        return [
            _Share(
                routes=np.flatnonzero(part), bonds=bound == k, trailers=trailers == k
            )
            for k, part in enumerate(parts)
        ]

    def _vans(self, ties: Ties) -> list[Flags]:
        """Return for each walk which vans are its own: those whose stops lie nearest to a place of its own."""
        n_vans, walks = int(self.given["n_vans"]), len(self.walkers)
        most = max(1, min(-(-_PART // int(self.given["n_days"])), n_vans // walks))
        left = np.ones(n_vans, bool)
        found = []
        for _ in range(walks):
            place = self.luck.choice(ties.places)
            far = np.where(left, self._blurred(ties.far(place)), np.inf)
            mine = np.zeros(n_vans, bool)
            mine[np.argsort(far, kind="stable")[:most]] = True
            found.append(mine & left)
            left &= ~mine
        return found

    def _blurred(self, far: NDArray[np.float64]) -> NDArray[np.float64]:
        return far * (1 + _BLUR * self.luck.random(far.shape))

    def _bound(self, ties: Ties, k: int) -> Given:
        """Return what is given, so that a walk places nothing of another's, nor moves its trailers."""
        given, share = self._own[k], self._shares[k]
        stages, trailers = ties.n_stages, int(self.given["n_trailers"])
        given["fits"][:stages] = self.given["fits"][:stages]
        given["fits"][:stages][ties.missing & ~share.bonds[ties.bond]] = 0
        kinds = self.given["trailers"]["kind"][:trailers]
        given["trailers"]["kind"][:trailers] = np.where(share.trailers, kinds, NOBODY)
        return given

    def _fenced(self, k: int, hires: Numbers) -> Week:
        """Return the week with every van-day closed that is not the walk's own, and others' people taken."""
        week, share = self._week.copy(), self._shares[k]
        closed = np.ones(int(week["n_routes"]), bool)
        closed[share.routes] = False
        week["routes"]["lock"][: len(closed)][closed] = CLOSED
        week["busy"][:, : len(hires)][:, hires != k] = 1
        return week

    def _joined(self, weeks: Sequence[Week]) -> Week:
        """Return the week as it was dealt, with each walk's part as it is now."""
        joined, stages = self._week.copy(), int(self.given["n_stages"])
        job = self.given["stages"]["job"][:stages]
        for week, share in zip(weeks, self._shares, strict=True):
            joined["routes"][share.routes] = week["routes"][share.routes]
            for seen in (self._week["seen"], week["seen"]):
                moved = np.flatnonzero(np.isin(seen["route"][:stages], share.routes))
                joined["seen"][moved] = week["seen"][moved]
            own = np.flatnonzero(share.trailers)
            joined["chains"][own] = week["chains"][own]
            jobs = job[share.bonds[self._bonds]]
            joined["chosen"][jobs] = week["chosen"][jobs]
        _hire(joined)
        return joined


def _hire(week: Week) -> None:
    """Write anew who rides when, and for how many minutes in all."""
    n_routes, n_people = int(week["n_routes"]), int(week["n_people"])
    routes = week["routes"][:n_routes]
    seats = np.arange(routes["team"].shape[1])
    at, seat = np.nonzero(seats < routes["size"][:, np.newaxis])
    person = routes["team"][at, seat]
    week["busy"][:] = 0
    week["busy"][at // (n_routes // int(week["n_days"])), person] = 1
    week["paid"][:n_people] = np.bincount(
        person, weights=routes["paid"][at], minlength=n_people
    )
