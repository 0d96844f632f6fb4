"""A proven floor under a week's cost, raised as long as there is time: column generation and branching.

Each round prices every outing by what the rows are worth and adds up what that proves; whatever the
worths, no week costs less (a Lagrangean bound). Jobs that the programme finishes in part are then
taken as finished and as left, each by itself: the floor is the least of all that is open.
"""

import math
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from dispatch.planner.bound import lower_bound
from dispatch.planner.floor.crews import too_many
from dispatch.planner.plan import VanDay
from dispatch.planner.problem import Problem
from dispatch.planner.solve.rounds import Rounds

# Seven parts of a cost are rounded one by one, each down by half a cent at most; and floats are floats.
_ROUNDING = 3.5
_BLUR = 1e-9
# How near the programme and what is proven must be to go on to branching.
_NEAR = 2e-4

Stop = Callable[[], bool]


@dataclass(kw_only=True, slots=True)
class Case:
    """Some jobs taken as finished (0) or left (1), by variable, and the cents proven of such weeks."""

    fixed: Mapping[int, float]
    cents: float
    settled: bool = False


class Floor:
    """Raises a floor under the cost of every plan of a problem."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.cents = lower_bound(problem)
        self.rounds: Rounds | None = None
        self.cases = [Case(fixed={}, cents=-math.inf, settled=too_many(problem))]

    def improve(self, seconds: float, stop: Stop = lambda: False) -> int:
        """Work for so many seconds, less when told to stop; return whole cents that no plan is below."""
        until = time.monotonic() + seconds

        def enough() -> bool:
            return stop() or time.monotonic() >= until

        while not enough() and not self.settled():
            self._round(self._made(), self._lowest(), enough)
            self.cents = max(self.cents, _whole(self._lowest().cents))
        return self.cents

    def learn(self, van_days: Iterable[VanDay]) -> None:
        """Take in van-days of good plans, to begin from."""
        if not self.settled():
            self._made().learn(van_days)

    def _made(self) -> Rounds:
        if self.rounds is None:
            self.rounds = Rounds(self.problem)
        return self.rounds

    def halt(self) -> None:
        """End a round under way in another thread; nothing is proven any more."""
        if self.rounds is not None:
            self.rounds.pricing.halt()

    def settled(self) -> bool:
        """Whether more time proves no more."""
        return self._lowest().settled

    def _lowest(self) -> Case:
        return min(self.cases, key=lambda case: case.cents)

    def _round(self, rounds: Rounds, case: Case, enough: Stop) -> None:
        """Solve, price and prove once for one case; branch when there is no more to be found."""
        answer = rounds.solve(case.fixed)
        if answer is None:
            case.settled = True
            return
        loose = rounds.loose
        proven, new = rounds.prove(answer, case.fixed, enough)
        case.cents = max(case.cents, proven)
        if loose or enough():
            return
        if new == 0 or answer[0] - case.cents <= _NEAR * abs(answer[0]):
            self._branch(rounds, case)

    def _branch(self, rounds: Rounds, case: Case) -> None:
        """Take a job that is finished in part as finished, and as left; settle where there is none."""
        job = rounds.part_finished()
        if job is None or job in case.fixed:
            case.settled = True
            return
        self.cases.remove(case)
        for value in (0.0, 1.0):
            self.cases.append(Case(fixed={**case.fixed, job: value}, cents=case.cents))
        rounds.again()


def _whole(cents: float) -> int:
    """Return the least whole total of parts that come to so many cents before they are rounded."""
    if math.isinf(cents):
        return 0
    return math.ceil(cents - _ROUNDING - _BLUR * abs(cents) - 0.01)
