"""The ways a job may still be done in a plan."""

from dataclasses import replace

from dispatch.planner.cost import cost
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem, Stage
from dispatch.planner.reasons import why_never


def ways_of(problem: Problem, plan: Plan, stage: Stage) -> tuple[str | None, ...]:
    """Return the variants a stage's job may be done in, the chosen first; only that once it is begun."""
    job = problem.jobs[stage.job]
    chosen = plan.chosen.get(job.id)
    seen = plan.visits()
    begun = any(
        s.variant is not None and (s.id in seen or s.pinned is not None)
        for s in problem.stages.values()
        if s.job == job.id
    )
    if not job.variants or begun:
        return (chosen,)
    return (chosen, *(way for way in job.variants if way != chosen))


def stages_of(problem: Problem, stage: Stage, way: str | None) -> tuple[Stage, ...]:
    """Return what its job needs done that way, and the stage itself when it is an extra."""
    return tuple(
        s
        for s in problem.stages.values()
        if s.job == stage.job
        and s.variant in (None, way)
        and (not s.extra or s.id == stage.id)
    )


def possible_ways(problem: Problem, plan: Plan) -> Plan:
    """Return the plan with the jobs it leaves out in ways that somebody could do them, at no more cost.

    What is told of a job left out is told of its chosen way: one that no plan could hold says little.
    """
    begun = {problem.stages[name].job for name in plan.visits()}
    for job in problem.jobs.values():
        if not job.variants or job.id in begun:
            continue
        stage = next(s for s in problem.stages.values() if s.job == job.id)
        chosen, *others = ways_of(problem, plan, stage)
        if could_be_done(problem, stage, chosen):
            continue
        tried = (
            replace(plan, chosen={**plan.chosen, job.id: str(way)})
            for way in others
            if could_be_done(problem, stage, way)
        )
        total = cost(problem, plan)["total"]
        plan = next((p for p in tried if cost(problem, p)["total"] <= total), plan)
    return plan


def could_be_done(problem: Problem, stage: Stage, way: str | None) -> bool:
    """Whether each visit that a stage's job needs that way could be made by somebody some time, alone."""
    return all(why_never(problem, s) is None for s in stages_of(problem, stage, way))
