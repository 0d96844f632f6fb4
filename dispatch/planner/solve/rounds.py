"""Rounds of column generation: solve the programme, price outings by its worths, prove what that shows."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from dispatch.planner.floor.pricing import Look, Pricing
from dispatch.planner.floor.shapes import Floats
from dispatch.planner.floor.slots import Slots
from dispatch.planner.floor.week import week
from dispatch.planner.floor.worths import Worths
from dispatch.planner.plan import VanDay
from dispatch.planner.problem import Problem
from dispatch.planner.solve.relaxed import Relaxed

if TYPE_CHECKING:
    from dispatch.planner.floor.columns import Column

_NOTHING = float("-inf")
# How far the worths keep to the best ones so far, which keeps them from swinging.
_STEADY = 0.5
# Loose rounds end when so many on end make the programme cheaper by less than this share.
_LOOSE_GAIN = 1e-3
_LOOSE_STALE = 4
_LOOSE_COLUMNS = 3
_WHOLE = 1e-3

Answer = tuple[float, Floats]


class Rounds:
    """A week's programme, its outings so far, and the worths that proved most."""

    def __init__(self, problem: Problem) -> None:
        self.slots = Slots(problem)
        self.week = week(self.slots)
        self.pricing = Pricing(self.week)
        self.worths = Worths(self.week.sums)
        self.relaxed = Relaxed(self.week.sums, self.week.spare())
        self.shorts = [self.worths.of(v) for v in self.week.short.values()]
        self.best: Floats | None = None
        self.most, self.last = _NOTHING, float("inf")
        self.turn, self.stale, self.loose = 0, 0, True
        self.parts: dict[int, float] = {}

    def again(self) -> None:
        """Begin a new case: the old proofs are not its own."""
        self.most, self.last, self.loose = _NOTHING, float("inf"), True
        self.stale = 0

    def solve(self, fixed: Mapping[int, float]) -> Answer | None:
        """Solve the programme with some variables held."""
        self.relaxed.fix(fixed)
        answer = self.relaxed.solve()
        if answer is not None:
            self.parts = {i: self.relaxed.value(i) for i in self.shorts}
        return answer

    def prove(
        self, answer: Answer, fixed: Mapping[int, float], enough: Callable[[], bool]
    ) -> tuple[float, int]:
        """Return the cents proven (minus infinity: none) and how many outings are new."""
        cents, worth = answer[0], self.worths.signed(answer[1])
        if self.loose:
            _, new = self._price(worth, self._look(), enough)
            self.stale = 0 if cents < self.last * (1 - _LOOSE_GAIN) else self.stale + 1
            self.loose = new > 0 and self.stale < _LOOSE_STALE
            self.last = cents
            return _NOTHING, new
        most, new = _NOTHING, 0
        for mixed in self._mixed(worth):
            added, new = self._price(mixed, Look(), enough)
            if added is not None:
                proven = added + self.worths.proves(mixed, fixed)
                most = max(most, proven)
                if proven > self.most:
                    self.most, self.best = proven, mixed
            if new:
                break
        return most, new

    def _look(self) -> Look:
        self.turn += 7
        return Look(loose=True, enough=_LOOSE_COLUMNS, turn=self.turn)

    def _mixed(self, worth: Floats) -> Iterator[Floats]:
        if self.best is not None:
            yield self.worths.signed(_STEADY * self.best + (1 - _STEADY) * worth)
        yield worth

    def _price(
        self, worth: Floats, look: Look, enough: Callable[[], bool]
    ) -> tuple[float | None, int]:
        """Return what all slots' best outings add up to (None when cut short) and how many are new."""
        gains, total = self.pricing.gains(worth), 0.0
        columns: list[Column] = []
        for slot in self.slots.slots:
            if enough():
                return None, self.relaxed.add(columns)
            least, found = self.pricing.price(slot, gains, look)
            total += least
            columns += found
        new = self.relaxed.add(columns)
        return (None if enough() else total), new

    def learn(self, van_days: Iterable[VanDay]) -> None:
        """Take in van-days of plans: the worths then start near what a good week is worth."""
        columns = [self.pricing.columns.of(van_day) for van_day in van_days]
        self.relaxed.add(c for c in columns if c is not None)

    def part_finished(self) -> int | None:
        """Return the variable of the job finished most in part, in the last answer."""
        parts = [(abs(part - 0.5), i) for i, part in self.parts.items()]
        off, variable = min(parts, default=(0.5, -1))
        return variable if off < 0.5 - _WHOLE else None
