"""Which teams could ride in a van on a day and do a set of stages, cheapest first."""

from collections.abc import Iterable
from itertools import combinations

from dispatch.planner.solve.facts import Facts, mask

POOL = 9
KEPT = 3


def bits(people: int) -> list[int]:
    """Return the numbers of the people in a mask."""
    return [i for i in range(people.bit_length()) if people >> i & 1]


class Teams:
    """Remembers the teams it has put together."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        days = range(len(facts.problem.days))
        self.on_duty = [
            mask(i for i, p in enumerate(facts.people) if p.duty[d] is not None)
            for d in days
        ]
        self._known: dict[tuple[int, int, frozenset[int]], list[tuple[int, ...]]] = {}

    def allowed(self, team: int, stages: Iterable[int]) -> bool:
        """Whether the people in the mask may be one team and do these stages."""
        facts, members = self.facts, bits(team)
        if not team & facts.drivers:
            return False
        if any(team & facts.apart.get(m, 0) for m in members):
            return False
        if len(members) == 1 and facts.people[members[0]].not_alone:
            return False
        return all(self.able(team, len(members), s) for s in stages)

    def able(self, team: int, size: int, stage: int) -> bool:
        """Whether a team is big enough, skilled enough and not barred."""
        facts = self.facts
        if facts.minutes[stage][size] is None or team & facts.barred[stage]:
            return False
        return all(
            (team & able).bit_count() >= count for able, count in facts.needs[stage]
        )

    def choose(
        self, free: int, seats: int, stages: frozenset[int]
    ) -> list[tuple[int, ...]]:
        """Return the few best teams of the free people: some of every size."""
        known = self._known.get((free, seats, stages))
        if known is None:
            if len(self._known) > 50_000:
                self._known.clear()
            known = self._make(free, seats, stages)
            self._known[free, seats, stages] = known
        return known

    def _make(
        self, free: int, seats: int, stages: frozenset[int]
    ) -> list[tuple[int, ...]]:
        for stage in stages:
            free &= ~self.facts.barred[stage]
        pool = self._pool(free, stages)
        found: list[tuple[int, ...]] = []
        for size in range(1, min(seats, len(pool)) + 1):
            fit = [t for t in combinations(pool, size) if self.allowed(mask(t), stages)]
            fit.sort(key=self.rate)
            found += fit[:KEPT]
        found.sort(key=lambda team: self.burden(team, stages))
        return found

    def _pool(self, free: int, stages: frozenset[int]) -> list[int]:
        """Everybody free, or when they are many the cheapest for each need and at the wheel."""
        everyone = sorted(bits(free), key=lambda i: self.facts.people[i].cents_per_hour)
        if len(everyone) <= POOL:
            return everyone
        kept: list[int] = []
        wanted = [(a, c) for s in sorted(stages) for a, c in self.facts.needs[s]]
        for able, count in [*wanted, (self.facts.drivers, 1)]:
            kept += [i for i in everyone if able >> i & 1][: count + 1]
        return list(dict.fromkeys([*kept, *everyone[:2]]))[: POOL + 2]

    def rate(self, team: tuple[int, ...]) -> int:
        """Return the team's cents an hour."""
        return sum(self.facts.people[m].cents_per_hour for m in team)

    def burden(self, team: tuple[int, ...], stages: Iterable[int]) -> int:
        """Return what these stages cost with that team, less everything that is not work."""
        minutes = (self.facts.minutes[s][len(team)] or 0 for s in stages)
        return self.rate(team) * (60 + sum(minutes))
