"""The judge: every rule a plan breaks, in sentences. It shares no code with the search."""

from dispatch.planner.cost import cost
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem
from dispatch.planner.rules import codes, readable, trailers, van_day, week


def judge(problem: Problem, plan: Plan) -> list[str]:
    """Return one sentence for each broken rule; an empty list is a valid plan."""
    unknown = readable.faults(problem, plan)
    if unknown:
        return unknown
    found: list[str] = []
    for vd in plan.van_days:
        found += van_day.faults(problem, vd)
    found += week.faults(problem, plan)
    found += trailers.faults(problem, plan)
    return [*found, *codes.faults(problem, plan), *_stated(problem, plan)]


def _stated(problem: Problem, plan: Plan) -> list[str]:
    true = cost(problem, plan)
    found = [
        f"The plan states {plan.cost.get(part)} cents for {part}; it is {cents}."
        for part, cents in true.items()
        if plan.cost.get(part) != cents
    ]
    if plan.bound is not None and plan.bound > true["total"]:
        found.append(f"The bound {plan.bound} lies above the total {true['total']}.")
    return found
