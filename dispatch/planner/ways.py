"""The ways a job may still be done in a plan."""

from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem, Stage


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
