"""Recombination: the cheapest valid week out of every van-day seen."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dispatch.planner.cost import cost
from dispatch.planner.plan import Plan, VanDay
from dispatch.planner.problem import Problem

if TYPE_CHECKING:
    from dispatch.planner.solve.master import Choice

_TRIES = 6


@dataclass(frozen=True, kw_only=True, slots=True)
class Terms:
    """How long to recombine (CP-SAT's deterministic time), by the clock at most, from which seed, who judges, who may stop it."""

    work: float
    seconds: float
    seed: int
    accept: Callable[[Plan], bool]
    stop: Callable[[], bool]


def recombine(
    problem: Problem, columns: list[VanDay], best: Plan, terms: Terms
) -> Plan | None:
    """A week that the judge accepts, out of such van-days; None where the best stays.

    What the master leaves to the judge (two boats under one trailer) is ruled out and tried again.
    """
    # CP-SAT's Python takes a fifth of a second to load: not before it is needed.
    from dispatch.planner.solve.master import Master  # noqa: PLC0415

    master = Master(problem, columns)
    known = {
        index for index, column in enumerate(columns) if column in set(best.van_days)
    }
    master.hint(known, dict(best.chosen))
    least = cost(problem, best)["total"]
    for _ in range(_TRIES):
        choice = (
            None
            if terms.stop()
            else master.solve(_share(terms), terms.seed, terms.stop)
        )
        if choice is None or set(choice.columns) == known:
            return None
        plan = _plan(columns, choice)
        if cost(problem, plan)["total"] >= least:
            return None
        if terms.accept(plan):
            return plan
        master.forbid(choice)
    return None


def _share(terms: Terms) -> tuple[float, float]:
    return terms.work / _TRIES, terms.seconds / _TRIES


def _plan(columns: list[VanDay], choice: "Choice") -> Plan:
    return Plan(
        van_days=tuple(columns[i] for i in choice.columns), chosen=choice.chosen
    )
