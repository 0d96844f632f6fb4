"""Whether the reason a stage is left out for can be so; only what is refuted without a search."""

from collections.abc import Callable, Iterator, Mapping

from dispatch.planner.plan import CODES, Plan, Unplaced
from dispatch.planner.problem import Problem, Stage, Van

Left = Mapping[str, str]  # each stage left out, and its code
_OF_ANOTHER = ("job-blocked", "waits-for")


def faults(problem: Problem, plan: Plan) -> Iterator[str]:
    """Yield a sentence for each stage left out without a known code and a reason, or for one that is not so."""
    left = {u.stage: u.code for u in plan.unplaced}
    for u in plan.unplaced:
        if u.code not in CODES or not u.why.strip():
            yield f"{u.stage} is left out without a known code and a reason."
        elif not may_be(problem, u, left):
            yield f"{u.stage} is left out for {u.code}, which is not so."


def may_be(problem: Problem, u: Unplaced, left: Left) -> bool:
    """Whether the code a stage is left out for can be so, beside all that is left out."""
    check = _CHECKS.get(u.code)
    return check is None or check(problem, problem.stages[u.stage], left)


def _no_window(_: Problem, stage: Stage, __: Left) -> bool:
    least = min(stage.minutes.values())
    return all(end - start < least for start, end in stage.windows)


def _with_gear(problem: Problem, stage: Stage) -> list[Van]:
    return [van for van in problem.vans.values() if stage.gear <= van.gear]


def _no_van(problem: Problem, stage: Stage, _: Left) -> bool:
    least = min(stage.minutes)
    return all(van.seats < least for van in _with_gear(problem, stage))


def _no_supplies(problem: Problem, stage: Stage, _: Left) -> bool:
    return not any(
        all(
            van.carries.get(name, 0) >= amount
            for name, amount in stage.supplies.items()
        )
        for van in _with_gear(problem, stage)
    )


def _no_trailer(_: Problem, stage: Stage, __: Left) -> bool:
    return bool(stage.trailers)


def _waits_for(_: Problem, stage: Stage, left: Left) -> bool:
    return any(after.stage in left for after in stage.after)


def _job_blocked(problem: Problem, stage: Stage, left: Left) -> bool:
    return any(
        name != stage.id
        and problem.stages[name].job == stage.job
        and code not in _OF_ANOTHER
        for name, code in left.items()
    )


_CHECKS: Mapping[str, Callable[[Problem, Stage, Left], bool]] = {
    "no-window": _no_window,
    "no-van": _no_van,
    "no-supplies": _no_supplies,
    "no-trailer": _no_trailer,
    "waits-for": _waits_for,
    "job-blocked": _job_blocked,
}
