"""Whether every name in a plan is known, before any rule is asked."""

from collections.abc import Container

from dispatch.planner.plan import Plan, Visit
from dispatch.planner.problem import Problem


def faults(problem: Problem, plan: Plan) -> list[str]:
    """Return a sentence for each name the problem does not list."""
    found = [
        f"The plan names {what} {name!r}, which the problem does not list."
        for what, name, known in _names(problem, plan)
        if name not in known
    ]
    wanted = {j.id for j in problem.jobs.values() if j.variants}
    if set(plan.chosen) != wanted:
        found.append(
            "The plan must choose a variant for exactly the jobs that have them."
        )
    return found


def _names(problem: Problem, plan: Plan) -> list[tuple[str, object, Container[object]]]:
    names: list[tuple[str, object, Container[object]]] = [
        ("stage", u.stage, problem.stages) for u in plan.unplaced
    ]
    for vd in plan.van_days:
        names += [
            ("van", vd.van, problem.vans),
            ("day", vd.day, range(len(problem.days))),
            *(("person", m, problem.people) for m in vd.team),
        ]
        for stop in vd.stops:
            if isinstance(stop, Visit):
                names.append(("stage", stop.stage, problem.stages))
            else:
                names.append(("trailer", stop.trailer, problem.trailers))
                names += [("place", p, problem.places) for p in (stop.origin, stop.to)]
    return names
