"""Ways to have the trailers that a block of stages needs: where one stands, or by a tow."""

from collections.abc import Iterator
from itertools import product
from typing import NamedTuple

from dispatch.planner.solve.state import Move, State

Stand = tuple[int, int]


class Serving(NamedTuple):
    """Stands for each stage of a block, and the tows that must come before it."""

    stands: dict[int, tuple[Stand, ...]]
    moves: tuple[Move, ...]


def servings(state: State, block: tuple[int, ...]) -> Iterator[Serving]:
    """Yield each way; just one, of nothing, for a block that needs no trailer."""
    facts = state.facts
    wants = list(
        dict.fromkeys(
            (need.kind, facts.stages[s].place)
            for s in block
            for need in facts.stages[s].trailers
        )
    )
    for ways in product(*(_ways(state, kind, place) for kind, place in wants)):
        moves = tuple(move for _, move in ways if move is not None)
        if len({m.trailer for m in moves}) < len(moves):
            continue
        given = dict(zip(wants, (stand for stand, _ in ways), strict=True))
        stands = {
            s: tuple(
                given[need.kind, facts.stages[s].place]
                for need in facts.stages[s].trailers
            )
            for s in block
            if facts.stages[s].trailers
        }
        yield Serving(stands, moves)


def _ways(state: State, kind: str, place: int) -> list[tuple[Stand, Move | None]]:
    found: list[tuple[Stand, Move | None]] = []
    for t, trailer in enumerate(state.facts.trailers):
        if trailer.kind != kind:
            continue
        chain = state.chain[t]
        found += [((t, n), None) for n, at in enumerate(chain) if at == place]
        if chain[-1] != place:
            move = Move(t, len(chain), chain[-1], place)
            found.append(((t, len(chain)), move))
    return found
