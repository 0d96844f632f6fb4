"""Whether a stage goes into a week with its own job alone: a search of its own, so that no order is missed."""

from collections.abc import Mapping
from dataclasses import replace

from dispatch.planner.core.encode import encode
from dispatch.planner.core.shapes import Week
from dispatch.planner.problem import Problem, Stage
from dispatch.planner.solve.facts import Facts
from dispatch.planner.solve.start import Start, starting_weeks
from dispatch.planner.solve.walker import Walker

_STEPS, _TRIES, _SEED = 20, 8, 1
# More than any week costs: the job is done if the search finds a way at all.
_ANY_PRICE = 10**8


def fits_by_itself(problem: Problem, stage: Stage) -> bool:
    """Return whether a week is found in which the stage's job is finished, or an extra is done.

    True too where other jobs are fixed in the week: then nothing is claimed.
    """
    if problem.frozen or any(s.pinned for s in problem.stages.values()):
        return True
    facts = Facts(_alone(problem, stage))
    given = encode(facts.problem)
    walker = Walker(given, starting_weeks(facts, given, Start(), _SEED)[0], _SEED)
    for _ in range(_TRIES):
        if _done(facts, walker.best, stage):
            return True
        walker.steps(_STEPS, _ANY_PRICE / 100)
    return _done(facts, walker.best, stage)


def _done(facts: Facts, week: Week, stage: Stage) -> bool:
    return all(week["seen"][i]["route"] >= 0 for i in _wanted(facts, week, stage))


def _alone(problem: Problem, stage: Stage) -> Problem:
    """Return the week with that job alone in it, worth any price."""
    job = replace(problem.jobs[stage.job], unfinished_cents=_ANY_PRICE)
    own = {s.id: s for s in problem.stages.values() if s.job == stage.job}
    own[stage.id] = replace(stage, drop_cents=_ANY_PRICE)
    own = {name: _without(s, own) for name, s in own.items()}
    return replace(problem, jobs={job.id: job}, stages=own, standing=None)


def _without(stage: Stage, own: Mapping[str, Stage]) -> Stage:
    """Return the stage without what it follows in other jobs: they are asked about for themselves."""
    return replace(stage, after=tuple(a for a in stage.after if a.stage in own))


def _wanted(facts: Facts, week: Week, stage: Stage) -> list[int]:
    """Return what must be placed: the extra asked about, or what the job needs as it was done."""
    if stage.extra:
        return [facts.number[stage.id]]
    ways = facts.jobs[0].variants
    way = ways[int(week["chosen"][0])] if ways else None
    return [
        i
        for i, s in enumerate(facts.stages)
        if not s.extra and s.variant in (None, way)
    ]
