"""Changes made to a plan by hand: each judged and priced, or why it cannot be, what binds first."""

from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, replace

from dispatch.planner.cost import cost
from dispatch.planner.plan import Plan, Visit
from dispatch.planner.problem import Problem
from dispatch.planner.rules import judge
from dispatch.planner.rules.codes import may_be
from dispatch.planner.solve.by_hand import Where, placed, swapped, taken_out
from dispatch.planner.solve.changed import frozen
from dispatch.planner.unfit import crew_faults, stage_faults, why_not

__all__ = ["Done", "Where", "frozen", "put", "swap", "without"]

_MOST = 3
_OF_ANOTHER = ("waits-for", "job-blocked")
_NOT_YET = (
    "What it waited for is planned by hand since; put it in by hand too, or plan anew."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Done:
    """A change: the plan that has it, judged, and the cents it adds; or why it cannot be, what binds first.

    `moved` are other stages that start at another minute in it, `lost` those that have no visit any more.
    """

    plan: Plan | None = None
    cents: int = 0
    moved: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    why_not: tuple[str, ...] = ()


def put(problem: Problem, plan: Plan, stage: str, where: Where) -> Done:
    """Return the plan with a stage's visit at a van's day and minute, or why it cannot be there."""
    fault = _fixed(problem, plan, stage, where)
    if fault:
        return Done(why_not=(fault,))
    done = _first(problem, plan, placed(problem, plan, stage, where), {stage})
    if done.plan is not None:
        return done
    return Done(why_not=why_not(problem, plan, stage, where, "".join(done.why_not)))


def _first(problem: Problem, plan: Plan, made: Iterable[Plan], meant: Set[str]) -> Done:
    """Return the first of some plans that keeps every rule; else why the first one does not."""
    said = ""
    for one in made:
        done = _judged(problem, plan, one, meant)
        if done.plan is not None:
            return done
        said = said or done.why_not[0]
    return Done(why_not=(said,) if said else ())


def _fixed(problem: Problem, plan: Plan, stage: str, where: Where) -> str:
    """Say why the stage, or that van's day, may not be touched at all."""
    row = problem.stages[stage]
    if row.pinned is not None:
        return "It is pinned; take the pin out first."
    if stage in frozen(problem):
        return "It is done or under way."
    if row.variant is not None and plan.chosen.get(row.job) != row.variant:
        return "It belongs to another way of doing the job than the plan has chosen."
    return _over(problem, where)


def _over(problem: Problem, where: Where) -> str:
    closed = [row for row in problem.frozen if not row.get("open")]
    if any((row["van"], row["day"]) == (where.van, where.day) for row in closed):
        return f"{where.van} has been out on day {where.day + 1} and is back."
    return "That time has gone by." if where.start < problem.now else ""


def _judged(problem: Problem, before: Plan, made: Plan, meant: Set[str]) -> Done:
    """Judge and price a changed plan against the one before it."""
    made = _still_left(problem, made)
    made = replace(made, cost=cost(problem, made))
    faults = judge(problem, made)
    if faults:
        return Done(why_not=(faults[0],))
    old, new = before.visits(), made.visits()
    return Done(
        plan=made,
        cents=made.cost["total"] - cost(problem, before)["total"],
        moved=tuple(
            name
            for name, (_, visit) in new.items()
            if name not in meant and name in old and old[name][1].start != visit.start
        ),
        lost=tuple(sorted(old.keys() - new.keys())),
    )


def _still_left(problem: Problem, made: Plan) -> Plan:
    """Tell anew of what waited for a stage that has a visit by now: it is merely not put in yet."""
    left = {row.stage: row.code for row in made.unplaced}
    return replace(
        made,
        unplaced=tuple(
            row
            if row.code not in _OF_ANOTHER or may_be(problem, row, left)
            else replace(row, code="no-room", why=_NOT_YET)
            for row in made.unplaced
        ),
    )


def without(problem: Problem, plan: Plan, stages: Iterable[str]) -> Done:
    """Return the plan without these visits and whatever needs them; the others keep their times."""
    gone = set(stages) - frozen(problem)
    return _judged(problem, plan, taken_out(problem, plan, gone), gone)


def swap(
    problem: Problem, plan: Plan, where: tuple[str, int], out: str, into: str
) -> Done:
    """Return the plan in which one person rides a van's day in another's stead; who rode elsewhere changes places with them.

    The hours stay where they can, else the stops of those van-days slide.
    """
    rides = {vd.van: vd.team for vd in plan.van_days if vd.day == where[1]}
    if out not in rides.get(where[0], ()):
        return Done(
            why_not=(f"{out} does not ride in {where[0]} on day {where[1] + 1}.",)
        )
    other = next((van for van, team in rides.items() if into in team), None)
    if other == where[0]:
        return Done(why_not=(f"{into} rides in {where[0]} that day already.",))
    teams = {where[0]: _instead(rides[where[0]], out, into)}
    if other is not None:
        teams[other] = _instead(rides[other], into, out)
    faults = list(_swap_faults(problem, plan, where[1], teams))
    if faults:
        return Done(why_not=tuple(faults[:_MOST]))
    done = _first(problem, plan, swapped(problem, plan, where[1], teams), set())
    if done.plan is None and not done.why_not:
        return Done(
            why_not=("Their hours that day leave no timing for what the vans do.",)
        )
    return done


def _instead(team: tuple[str, ...], out: str, into: str) -> tuple[str, ...]:
    return tuple(sorted({*team, into} - {out}))


def _swap_faults(
    problem: Problem, plan: Plan, day: int, teams: Mapping[str, tuple[str, ...]]
) -> Iterator[str]:
    gone = {(row["van"], row["day"]) for row in problem.frozen}
    for vd in plan.van_days:
        if vd.day != day or vd.van not in teams:
            continue
        if (vd.van, day) in gone:
            yield f"{vd.van} has left on day {day + 1}: who rides in it stays with it, and nobody joins it on the way."
        yield from crew_faults(problem, vd.van, day, teams[vd.van])
        for stop in vd.stops:
            if isinstance(stop, Visit):
                row, team = problem.stages[stop.stage], teams[vd.van]
                for fault in stage_faults(problem, row, vd.van, day, team):
                    yield f"{stop.stage}: {fault}"
