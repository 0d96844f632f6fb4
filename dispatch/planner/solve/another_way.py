"""Weeks in which one job is done another way, all else where it is; neither judged nor priced."""

from collections.abc import Iterator, Mapping, Set
from dataclasses import replace

from dispatch.planner.core.shapes import Week
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.plan import Plan, Unplaced
from dispatch.planner.problem import Problem, Stage
from dispatch.planner.solve.by_hand import taken_out
from dispatch.planner.solve.changed import frozen
from dispatch.planner.solve.whatif import WhatIf

_NO_ROOM = "It found no place when its job was to be done another way."


def done_as(problem: Problem, plan: Plan, job: str, way: str) -> Iterator[Plan]:
    """Yield plans with a job done in a way: with what it has before that where it is, then with all of it put in anew."""
    narrow = _only(problem, job, way)
    own = {name for name in plan.visits() if problem.stages[name].job == job}
    other = {name for name in own if problem.stages[name].variant is not None}
    for gone in (other, own) if own != other else (own,):
        # What was the other way's is no stage of the narrow week, so all of it must be out.
        before = _cleared(problem, narrow, plan, (gone - frozen(problem), job, way))
        whatif = WhatIf(narrow, before)
        number = next(n for n, one in enumerate(whatif.facts.jobs) if one.id == job)
        for week in (_one_by_one(whatif, number), _as_a_whole(whatif, number)):
            yield _told(narrow, plan, to_plan(narrow, week))


def _only(problem: Problem, job: str, way: str) -> Problem:
    """The problem in which a job has one way."""
    jobs = {**problem.jobs, job: replace(problem.jobs[job], variants=(way,))}
    stages = {
        name: row
        for name, row in problem.stages.items()
        if row.job != job or row.variant in (None, way)
    }
    return replace(problem, jobs=jobs, stages=_knowing(stages))


def _knowing(stages: Mapping[str, Stage]) -> dict[str, Stage]:
    """The stages without waiting for what is none of them."""
    return {
        name: replace(row, after=tuple(one for one in row.after if one.stage in stages))
        for name, row in stages.items()
    }


def _cleared(
    problem: Problem, narrow: Problem, plan: Plan, asked: tuple[Set[str], str, str]
) -> Plan:
    """The plan without some visits and what needs them, as one of the narrow problem."""
    gone, job, way = asked
    left = taken_out(problem, plan, gone)
    unplaced = tuple(row for row in left.unplaced if row.stage in narrow.stages)
    return replace(left, chosen={**plan.chosen, job: way}, unplaced=unplaced)


def _one_by_one(whatif: WhatIf, job: int) -> Week:
    """The week with each stage the job lacks where it costs least, earlier ones first."""
    week = whatif.without(())
    whatif.put(week, whatif.missing(job, week))
    return week


def _as_a_whole(whatif: WhatIf, job: int) -> Week:
    """The week with the job put in as a whole, equipment brought ahead for it if need be."""
    walker = whatif.trial(whatif.without(()))
    walker.room["lacked"] = 1
    walker.room["lacked"][job] = 0
    walker.fill(job)
    return walker.now


def _told(narrow: Problem, before: Plan, made: Plan) -> Plan:
    """The plan with what it leaves out, for the reasons it had where it had one."""
    seen, was = made.visits(), {row.stage: row for row in before.unplaced}
    left = [
        was.get(row.id, Unplaced(stage=row.id, code="no-room", why=_NO_ROOM))
        for row in narrow.stages.values()
        if row.id not in seen
        and (row.variant is None or row.variant == made.chosen.get(row.job))
    ]
    return replace(
        before,
        van_days=made.van_days,
        chosen=made.chosen,
        unplaced=tuple(left),
        bound=None,
    )
