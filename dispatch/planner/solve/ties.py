"""What has to do with what in a week: van-days by the bonds and trailers they share, and how far all lies."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from dispatch.planner.core.shapes import Given, Week
from dispatch.planner.solve.flatten import CLOSED

Numbers = NDArray[np.int64]
Flags = NDArray[np.bool_]
Minutes = NDArray[np.float64]


def bonds(given: Given) -> Numbers:
    """Return for each stage a number that those of its boat have too, and those that it follows."""
    stages = given["stages"][: int(given["n_stages"])]
    found: Numbers = stages["boat"].copy()
    for stage, (low, high) in enumerate(stages["before"]):
        for other in given["before"]["stage"][low:high]:
            if found[stage] != found[other]:
                found[found == found[stage]] = found[other]
    return found


class Ties:
    """A week's visits and moves as flat arrays."""

    def __init__(self, given: Given, week: Week, bonds: Numbers) -> None:
        """`bonds`: for each stage, the number of those that bind each other."""
        self.given, self.week, self.bond = given, week, bonds
        self.n_stages, self.n_vans = int(given["n_stages"]), int(given["n_vans"])
        self.n_routes = int(week["n_routes"])
        stages = given["stages"][: self.n_stages]
        self.places = stages["place"]
        self.n_bonds = int(bonds.max(initial=-1)) + 1
        self.route = week["seen"]["route"][: self.n_stages]
        self.missing = self.route < 0
        self.drive = given["drive"]
        self._towed = self._trailers()

    def _trailers(self) -> tuple[Numbers, Numbers]:
        """Return pairs of a van-day and a trailer that it moves, or that serves a stage of it."""
        seen = self.week["seen"][: self.n_stages]
        stands = np.arange(seen["trailer"].shape[1]) < seen["stands"][:, np.newaxis]
        stage, k = np.nonzero(stands & ~self.missing[:, np.newaxis])
        chains = self.week["chains"][: int(self.given["n_trailers"])]
        used = np.arange(chains["route"].shape[1]) < chains["count"][:, np.newaxis]
        used &= (chains["route"] >= 0) & (chains["place"] >= 0)
        trailer, number = np.nonzero(used)
        routes = np.concatenate((self.route[stage], chains["route"][trailer, number]))
        trailers = np.concatenate((seen["trailer"][stage, k], trailer))
        return routes, trailers

    def far(self, place: int) -> Minutes:
        """Return the minutes from a place to each van's nearest stop, or to its base when it has none."""
        on = ~self.missing
        found = np.full(self.n_vans, np.inf)
        ways = self.drive[place, self.places[on]]
        np.minimum.at(found, self.route[on] % self.n_vans, ways.astype(float))
        bases = self.given["vans"]["base"][: self.n_vans]
        return np.where(np.isinf(found), self.drive[place, bases], found)

    def apart(self, vans: Flags, owners: tuple[Numbers, Numbers], k: int) -> Flags:
        """Return which van-days of some vans have no bond and no trailer of others; those they have become k's."""
        free = np.tile(vans, self.n_routes // self.n_vans)
        free &= self.week["routes"]["lock"][: self.n_routes] != CLOSED
        on = ~self.missing
        pairs = ((self.route[on], self.bond[on]), self._towed)
        for (routes, things), owner in zip(pairs, owners, strict=True):
            taken = (owner[things] >= 0) & (owner[things] != k)
            free[routes[taken]] = False
        for (routes, things), owner in zip(pairs, owners, strict=True):
            owner[things[free[routes]]] = k
        return free

    def hand_out(
        self,
        bonds: Numbers,
        parts: Sequence[Flags],
        blurred: Callable[[Minutes], Minutes],
    ) -> None:
        """Give each bond with something missing, and no owner, to the part that the visit nearest to it lies in."""
        on = np.flatnonzero(~self.missing)
        lost = np.flatnonzero(self.missing & (bonds[self.bond] < 0))
        if not len(on) or not len(lost):
            return
        ways = self.drive[np.ix_(self.places[lost], self.places[on])].astype(float)
        near = self.route[on[np.argmin(blurred(ways), axis=1)]]
        for k, part in enumerate(parts):
            bonds[self.bond[lost[part[near]]]] = k
