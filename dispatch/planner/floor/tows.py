"""Moves of trailers as tasks of a van-day: fetching one costs a team's minutes and metres.

Moves by way of a place where no stage needs the trailer are kept as two halves, to and from elsewhere.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from dispatch.planner.floor.shapes import Ints
from dispatch.planner.problem import Problem, Trailer


@dataclass(frozen=True, kw_only=True, slots=True)
class Fetch:
    """A kind of trailer moved from one node to another; None is elsewhere."""

    id: str
    kind: str
    origin: int | None
    to: int | None
    place: int
    leave: int
    minutes: int
    towed: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """All that is known of one kind of trailer: where they stand, where they are needed, how they move."""

    name: str
    trailers: tuple[Trailer, ...]
    nodes: tuple[int, ...]
    fetches: tuple[Fetch, ...]


def kinds(problem: Problem, roads: Ints) -> list[Kind]:
    """Return the kinds that stages need; those that take no time at all to move are left out."""
    names = {need.kind for s in problem.stages.values() for need in s.trailers}
    found = [_kind(problem, roads, name) for name in sorted(names)]
    return [k for k in found if all(f.minutes > 0 for f in k.fetches)]


def _kind(problem: Problem, roads: Ints, name: str) -> Kind:
    trailers = tuple(t for t in problem.trailers.values() if t.kind == name)
    nodes = {t.place for t in trailers}
    for stage in problem.stages.values():
        nodes |= {stage.place for need in stage.trailers if need.kind == name}
    for trailer, origin, to, _ in frozen_moves(problem):
        nodes |= {origin, to} if problem.trailers[trailer].kind == name else set()
    fetches = _Moves(problem, roads, trailers, sorted(nodes)).all() if trailers else ()
    return Kind(
        name=name,
        trailers=trailers,
        nodes=tuple(sorted(nodes)),
        fetches=tuple(fetches),
    )


def frozen_moves(problem: Problem) -> Iterator[tuple[str, int, int, int]]:
    """Yield each frozen move: trailer, origin, destination and day."""
    for row in problem.frozen:
        for stop in row["stops"]:
            if stop["do"] == "tow":
                ends = [problem.places.index(stop[key]) for key in ("from", "to")]
                yield stop["trailer"], ends[0], ends[1], row["day"]


@dataclass(frozen=True, slots=True)
class _Moves:
    """The moves between some nodes, and between them and elsewhere."""

    problem: Problem
    roads: Ints
    trailers: tuple[Trailer, ...]
    nodes: list[int]

    def all(self) -> Iterator[Fetch]:
        elsewhere = [p for p in range(len(self.problem.places)) if p not in self.nodes]
        for to in self.nodes:
            if len(self.trailers) == 1:
                yield from (self._fetch(o, to) for o in self.nodes if o != to)
                origins = elsewhere
            else:
                origins = [p for p in range(len(self.problem.places)) if p != to]
            if origins:
                more = min(self._more(origin, to) for origin in origins)
                yield self._half(None, to, more)
            if elsewhere and len(self.trailers) == 1:
                more = min(self._more(to, other) for other in elsewhere)
                yield self._half(to, None, more)

    def _minutes(self, origin: int, to: int) -> int:
        drive = self.problem.drive_min[origin][to]
        return min(
            t.hook_min - (-drive * t.factor_pct // 100) + t.unhook_min
            for t in self.trailers
        )

    def _more(self, origin: int, to: int) -> int:
        """Return the minutes a move takes beyond the shortest way."""
        return self._minutes(origin, to) - int(self.roads[origin, to])

    def _fetch(self, origin: int, to: int) -> Fetch:
        return self._made(origin, to, origin, to, self._minutes(origin, to))

    def _half(self, origin: int | None, to: int | None, minutes: int) -> Fetch:
        at = to if to is not None else origin
        return self._made(origin, to, at or 0, at or 0, max(0, minutes))

    def _made(
        self, origin: int | None, to: int | None, place: int, leave: int, minutes: int
    ) -> Fetch:
        kind = self.trailers[0].kind
        return Fetch(
            id=f"move {kind} {origin} {to}",
            kind=kind,
            origin=origin,
            to=to,
            place=place,
            leave=leave,
            minutes=minutes,
            towed=all(t.towed for t in self.trailers),
        )
