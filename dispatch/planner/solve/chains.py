"""Trailers in the master: each one's moves form a chain in time and place, and stand where they are needed."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from dispatch.planner.plan import Tow
from dispatch.planner.problem import Problem, lag_minutes
from dispatch.planner.solve.slots import Offer, Slot

_EVER = 10**9


@dataclass(frozen=True, kw_only=True, slots=True)
class Stand:
    """A trailer at a place from one minute to another, when the literal is true."""

    kind: str
    place: str
    since: int
    until: int
    literal: cp_model.IntVar


def add(
    model: cp_model.CpModel,
    problem: Problem,
    given: Offer,
    pick: Sequence[cp_model.IntVar],
    slots: Mapping[Slot, cp_model.IntVar],
) -> None:
    """Add every trailer's chain, and that a kind stands by wherever a picked slot needs it."""
    moves = defaultdict(list)
    for index, tow in given.moves:
        moves[tow.trailer].append((tow, pick[index]))
    stands = [
        stand
        for trailer in problem.trailers
        for stand in _chain(model, problem, trailer, moves[trailer])
    ]
    for slot, literal in slots.items():
        _needs(model, problem, slot, literal, stands)


def _chain(
    model: cp_model.CpModel,
    problem: Problem,
    trailer: str,
    moves: Sequence[tuple[Tow, cp_model.IntVar]],
) -> list[Stand]:
    """A circuit from where the trailer stands through its picked moves; node 0 is the week's edge."""
    home, kind = (
        problem.places[problem.trailers[trailer].place],
        problem.trailers[trailer].kind,
    )
    arcs: list[tuple[int, int, cp_model.LiteralT]] = []
    stands: list[Stand] = []

    def arc(tail: int, head: int, place: str, since: int, until: int) -> None:
        literal = model.new_bool_var("")
        arcs.append((tail, head, literal))
        stands.append(
            Stand(kind=kind, place=place, since=since, until=until, literal=literal)
        )

    arc(0, 0, home, -_EVER, _EVER)
    for i, (tow, picked) in enumerate(moves, 1):
        arcs.append((i, i, picked.Not()))
        arc(i, 0, tow.to, tow.end, _EVER)
        if tow.origin == home:
            arc(0, i, home, -_EVER, tow.start)
        for j, (other, _) in enumerate(moves, 1):
            if i != j and other.origin == tow.to and other.start >= tow.end:
                arc(i, j, tow.to, tow.end, other.start)
    model.add_circuit(arcs)
    return stands


def _needs(
    model: cp_model.CpModel,
    problem: Problem,
    slot: Slot,
    literal: cp_model.IntVar,
    stands: Sequence[Stand],
) -> None:
    stage = problem.stages[slot.stage]
    for need in stage.trailers:
        stays = lag_minutes(need.stays_min, slot.end)
        until = _EVER + 1 if stays is None else slot.end + stays
        able = [
            stand.literal
            for stand in stands
            if stand.kind == need.kind
            and stand.place == problem.places[stage.place]
            and stand.since <= slot.start
            and until <= stand.until
        ]
        model.add_bool_or([literal.Not(), *able])
