"""A week in the making: van-days with their times, and what follows from them."""

from typing import TYPE_CHECKING, NamedTuple

from dispatch.planner.problem import lag_minutes
from dispatch.planner.solve.facts import Facts

if TYPE_CHECKING:
    from dispatch.planner.solve.spans import Starts

Key = tuple[int, int]


class Move(NamedTuple):
    """Tow number `number` (from 1) in the chain of moves of a trailer."""

    trailer: int
    number: int
    origin: int
    to: int


Stop = int | Move


class Route(NamedTuple):
    """One van-day: stops with their (start, end); `held` first stops may not change."""

    key: Key
    team: tuple[int, ...]
    stops: tuple[Stop, ...]
    times: tuple[tuple[int, int], ...]
    depart: int
    back: int
    rest: tuple[int, int] | None
    held: int = 0
    closed: bool = False

    @property
    def paid(self) -> int:
        """Paid minutes of each member."""
        unpaid = self.rest[1] - self.rest[0] if self.rest else 0
        return self.back - self.depart - unpaid


class Seen(NamedTuple):
    """Where and when a stage is visited, and until when its boat rests after it."""

    key: Key
    start: int
    end: int
    held_until: int


class State:
    """Routes by (van, day); `served` says which stand of which trailer serves a stage."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.routes: dict[Key, Route] = {}
        self.seen: dict[int, Seen] = {}
        self.moves: dict[tuple[int, int], tuple[Key, int, int]] = {}
        self.chain: list[tuple[int, ...]] = [(t.place,) for t in facts.trailers]
        self.served: dict[int, tuple[tuple[int, int], ...]] = {}
        self.chosen: dict[int, str] = {
            i: j.variants[0] for i, j in enumerate(facts.jobs) if j.variants
        }
        self.busy = [0] * len(facts.problem.days)
        self.paid = [0] * len(facts.people)
        self.memo: dict[object, Starts] = {}

    def put(self, route: Route) -> None:
        """Take the route in, in place of the one of that van and day."""
        self.drop(route.key)
        self.memo.clear()
        self.routes[route.key] = route
        for person in route.team:
            self.busy[route.key[1]] |= 1 << person
            self.paid[person] += route.paid
        for stop, (start, end) in zip(route.stops, route.times, strict=True):
            if isinstance(stop, Move):
                self._move(stop, (route.key, start, end))
            else:
                hold = lag_minutes(self.facts.stages[stop].hold_min, end) or 0
                self.seen[stop] = Seen(route.key, start, end, end + hold)

    def _move(self, move: Move, when: tuple[Key, int, int]) -> None:
        self.moves[move.trailer, move.number] = when
        chain = self.chain[move.trailer]
        if len(chain) == move.number:
            self.chain[move.trailer] = (*chain, move.to)

    def drop(self, key: Key) -> None:
        """Take a van-day away; the chains of its trailers are left for `mend` to cut."""
        route = self.routes.pop(key, None)
        if route is None:
            return
        self.memo.clear()
        for person in route.team:
            self.busy[key[1]] &= ~(1 << person)
            self.paid[person] -= route.paid
        for stop in route.stops:
            if isinstance(stop, Move):
                self.moves.pop((stop.trailer, stop.number), None)
            else:
                self.seen.pop(stop, None)

    def here(self, stage: int) -> bool:
        """Whether the stage is part of the plan as chosen."""
        own = self.facts.stages[stage].variant
        return own is None or self.chosen.get(self.facts.job_of[stage]) == own

    def stand(self, trailer: int, number: int) -> int:
        """Return the place of a trailer's stand: 0 is where it stood at first."""
        return self.chain[trailer][number]

    def at_stand(self, trailer: int, number: int) -> list[int]:
        """Stages served there, placed or about to be."""
        return [s for s, stands in self.served.items() if (trailer, number) in stands]
