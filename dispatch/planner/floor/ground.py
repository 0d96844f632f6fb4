"""Shortest ways between places, and which stages cannot follow which on a day."""

from collections.abc import Sequence

import numpy as np

from dispatch.planner.floor.pieces import Piece, least
from dispatch.planner.floor.shapes import Bools, Floats, Ints
from dispatch.planner.problem import Problem, Stage

_NEVER = 1 << 40


def shortest(matrix: Sequence[Sequence[int]]) -> Ints:
    """Return the least sums over all ways from row to column; a stop between never makes it shorter."""
    short = np.array(matrix, np.int64).reshape(len(matrix), len(matrix))
    for k in range(len(matrix)):
        np.minimum(short, short[:, k : k + 1] + short[k : k + 1, :], out=short)
    return short


def metre_cents(metres: Ints, cents_per_km: int) -> Floats:
    """Return what the metres cost, in cents."""
    return metres.astype(np.float64) * (cents_per_km / 1000)


def ancestors(problem: Problem) -> dict[str, set[str]]:
    """Return for each stage those that come before it whenever both it and they are visited."""
    found: dict[str, set[str]] = {}

    def of(name: str) -> set[str]:
        if name not in found:
            stage = problem.stages[name]
            found[name] = set()
            for rule in stage.after:
                found[name].add(rule.stage)
                if _surely(stage, problem.stages[rule.stage]):
                    found[name] |= of(rule.stage)
        return found[name]

    for name in problem.stages:
        of(name)
    return found


def _surely(stage: Stage, before: Stage) -> bool:
    """Whether the one before is visited wherever the stage is."""
    same_way = before.job == stage.job and before.variant == stage.variant
    return before.variant is None or same_way


def never_after(
    problem: Problem, before: dict[str, set[str]], of_day: Sequence[Piece], more: int
) -> Bools:
    """Return [a, b]: b cannot come after a in a van-day of the day with these pieces.

    `more` tasks that may come in any order, each once, stand after the stages.
    """
    stages = list(problem.stages.values())
    soonest = {s.id: _NEVER for s in stages}
    latest = {s.id: -_NEVER for s in stages}
    for piece in of_day:
        if piece.stage in soonest:
            ready = piece.low + min(problem.stages[piece.stage].minutes.values())
            soonest[piece.stage] = min(soonest[piece.stage], ready)
            latest[piece.stage] = max(latest[piece.stage], piece.high)
    table = np.eye(len(stages) + more, dtype=np.bool_)
    for i, a in enumerate(stages):
        for j, b in enumerate(stages):
            table[i, j] = (
                i == j
                or b.id in before[a.id]
                or _other_way(a, b)
                or soonest[a.id] + _between(problem, a, b) > latest[b.id]
            )
    return table


def _other_way(a: Stage, b: Stage) -> bool:
    both = a.variant is not None and b.variant is not None
    return both and a.job == b.job and a.variant != b.variant


def _between(problem: Problem, a: Stage, b: Stage) -> int:
    """Return the least minutes from the end of a to a start of b after it."""
    same_boat = problem.jobs[a.job].boat == problem.jobs[b.job].boat
    rest = least(a.hold_min) if same_boat else 0
    return max([rest, *(least(r.min_lag) for r in b.after if r.stage == a.id)])
