"""A quick plan: every job laid in once, the dearest first; no search after it."""

from dispatch.planner.build import Build, Effort
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem
from dispatch.planner.solve.search import Start


def first_plan(problem: Problem, *, seconds: float = 5.0, seed: int = 0) -> Plan:
    """Return a valid plan soon; InvalidProblem when what is fixed cannot be kept."""
    effort = Effort(seconds=seconds, seed=seed, steps=0)
    return Build(problem, effort, lambda _: None).run(Start())
