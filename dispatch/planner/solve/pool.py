"""Van-days the walk has visited: the columns a master problem recombines."""

from collections.abc import Iterable

from dispatch.planner.plan import Plan, VanDay


class Pool:
    """Every different van-day seen, the ones of cheap weeks kept longest."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._worth: dict[VanDay, float] = {}

    def add(self, plan: Plan, cents: float) -> None:
        """Take in a week's van-days; each keeps the cheapest week it was part of."""
        for van_day in plan.van_days:
            self._worth[van_day] = min(cents, self._worth.get(van_day, cents))
        if len(self._worth) > 2 * self.most:
            self._worth = dict(self._cheapest())

    def columns(self, always: Iterable[VanDay]) -> list[VanDay]:
        """The best so many, in a fixed order, with those that must be among them."""
        kept = dict.fromkeys(always)
        for van_day, _ in self._cheapest():
            if len(kept) >= self.most:
                break
            kept.setdefault(van_day)
        return list(kept)

    def _cheapest(self) -> list[tuple[VanDay, float]]:
        return sorted(self._worth.items(), key=lambda row: (row[1], repr(row[0])))[
            : self.most
        ]
