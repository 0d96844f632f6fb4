"""How warm a walk is when, and how often it begins anew before it settles.

Which boats are left, and on which days the others come, is settled early in a walk, and hardly ever
changes later. So walks begin anew a few times, each quickly cooled, and the rest of the time goes
to the cheapest week of all, warmed up once.
"""

from collections.abc import Sequence

# The share of the effort that short walks may take, and how their heat falls.
_SHARE, _HOT, _COOLED = 0.75, 0.7, 1 / 20
# How many short walks there are; more of them, where each has so many steps for each pair of stages all the same.
_WALKS, _MOST_WALKS, _LONG = 8, 16, 4
# How warm the long walk begins after them, and how much colder it ends.
_AGAIN, _COLDER = 0.15, 1 / 60
# A walk that never begins anew starts at this heat, one from what people were told so warm.
ALONE, NEAR, SETTLED = 1.0, 0.1, 1 / 300
# Fewer steps for each stage than this, and a walk is better off going on;
# walks that end so near each other have nothing to choose between.
_FEW_STEPS, _NEAR, _ENOUGH_WALKS = 15, 0.004, 4
# How warm the walk goes on when the whole effort has so many for each, but too few for short walks.
_MANY_STEPS, _WARM = 40, 0.4


class Schedule:
    """The heat of walks by the share of the effort used, in units of what a typical stage costs."""

    def __init__(self, *, anew: bool, warmth: float = ALONE) -> None:
        """`anew`: whether walks begin anew at all; else one long walk from `warmth`."""
        self.walk, self.walks = 0, _WALKS
        self.ends: list[float] = []
        self._since, self._top, self._fall = 0.0, warmth, SETTLED
        if anew:
            self._top, self._fall = _HOT, _COOLED
        self.short = anew

    def heat(self, along: float) -> float:
        """Return how warm a walk is now."""
        length = _SHARE / self.walks if self.short else 1 - self._since
        part = (along - self._since) / max(1e-9, length)
        return float(self._top * self._fall ** min(1.0, part))

    def over(self, along: float) -> bool:
        """Whether a short walk has come to its end."""
        return self.short and along >= self._since + _SHARE / self.walks

    def note(
        self, ends: Sequence[float], steps: int, stages: int, along: float
    ) -> None:
        """Take in where short walks ended (cents), and after how many steps; say how to go on."""
        self.walk += 1
        self.ends += ends
        few = steps < _FEW_STEPS * stages * self.walk
        near = self.walk >= _ENOUGH_WALKS and self._alike()
        self._since = along
        if self.walk == 1:
            self._divide(steps, stages, along)
        if few or near or along + _SHARE / self.walks / 2 > _SHARE:
            self.short = False
            # Where there was time for one short walk only, it has settled nothing yet.
            warm = few and steps >= _MANY_STEPS * stages * along
            self._top, self._fall = _WARM if warm else _AGAIN, _COLDER

    def _divide(self, steps: int, stages: int, along: float) -> None:
        """Settle how many short walks there are, by how far the first has come."""
        share = _SHARE * steps / max(1e-9, along)
        walks = int(share / (_LONG * max(1, stages * (stages - 1) // 2)))
        self.walks = min(_MOST_WALKS, max(_WALKS, walks))

    def _alike(self) -> bool:
        least = min(self.ends)
        return max(self.ends) - least <= _NEAR * least
