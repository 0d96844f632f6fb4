"""A job done another way in a plan (turned, under a roof, with other gear): judged and priced, or why it cannot be."""

from dataclasses import replace

from dispatch.planner.by_hand import Done
from dispatch.planner.cost import cost
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem
from dispatch.planner.rules import judge
from dispatch.planner.rules.codes import may_be
from dispatch.planner.solve.another_way import done_as
from dispatch.planner.solve.changed import frozen

_NOT_YET = "What it waited for has a visit now; put it in by hand, or plan anew."


def another_way(problem: Problem, plan: Plan, job: str, way: str) -> Done:
    """Return the cheapest plan found with a job done in one of its ways, all else in its van-days; or why there is none.

    `lost` are stages of the new way without a visit. Takes compiled code, and a second or less.
    """
    fault = _fixed(problem, plan, job, way)
    if fault:
        return Done(why_not=(fault,))
    found, said = [], ""
    for one in done_as(problem, plan, job, way):
        made = _priced(problem, one)
        faults = judge(problem, made)
        said = said or (faults[0] if faults else "")
        if not faults and _coats(problem, made, job, way):
            found.append(made)
    if not found:
        return Done(why_not=(said or _no_room(problem, job, way),))
    return _done(
        problem, plan, min(found, key=lambda one: _rank(problem, one, job)), job
    )


def _fixed(problem: Problem, plan: Plan, job: str, way: str) -> str:
    """Say why the job's way may not be changed at all."""
    if plan.chosen.get(job) == way:
        return "The plan has it that way already."
    if way not in problem.jobs[job].variants:
        return "It cannot be done that way this week: no hours of that way are open, or it is none of its ways."
    own = [row for row in problem.stages.values() if row.job == job]
    begun = frozen(problem)
    if any(row.variant is not None and row.id in begun for row in own):
        return "It is under way as it is; what is begun that way is ended that way."
    if any(row.pinned is not None for row in own):
        return "A visit of it is made fast (pinned); cast it off first."
    return ""


def _priced(problem: Problem, plan: Plan) -> Plan:
    left = {row.stage: row.code for row in plan.unplaced}
    unplaced = tuple(
        row
        if may_be(problem, row, left)
        else replace(row, code="no-room", why=_NOT_YET)
        for row in plan.unplaced
    )
    plan = replace(plan, unplaced=unplaced)
    return replace(plan, cost=cost(problem, plan))


def _coats(problem: Problem, plan: Plan, job: str, way: str) -> bool:
    """Whether anything of the new way has a visit."""
    return any(
        problem.stages[name].job == job and problem.stages[name].variant == way
        for name in plan.visits()
    )


def _rank(problem: Problem, plan: Plan, job: str) -> tuple[int, int]:
    return len(_missing(problem, plan, job)), plan.cost["total"]


def _missing(problem: Problem, plan: Plan, job: str) -> list[str]:
    left = (problem.stages[row.stage] for row in plan.unplaced)
    return [row.id for row in left if row.job == job and not row.extra]


def _done(problem: Problem, before: Plan, made: Plan, job: str) -> Done:
    old, new = before.visits(), made.visits()
    was = set(_missing(problem, before, job))
    lost = {name for name in _missing(problem, made, job) if name not in was}
    lost |= {
        name for name in old.keys() - new.keys() if problem.stages[name].job != job
    }
    return Done(
        plan=made,
        cents=made.cost["total"] - cost(problem, before)["total"],
        moved=tuple(
            name
            for name, (_, visit) in new.items()
            if name not in old or old[name][1].start != visit.start
        ),
        lost=tuple(sorted(lost)),
    )


def _no_room(problem: Problem, job: str, way: str) -> str:
    rows = [
        row
        for row in problem.stages.values()
        if row.job == job and row.variant == way and not row.extra
    ]
    minutes = sum(min(row.minutes.values()) for row in rows)
    return (
        f"No team with a van has room for its {minutes} minutes beside what is planned."
    )
