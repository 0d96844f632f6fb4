"""Why each stage left out is left out: a code of the contract and a sentence with numbers."""

from collections.abc import Callable, Iterable, Mapping

from dispatch.planner import no_room
from dispatch.planner.cost import in_plan
from dispatch.planner.in_turn import clash
from dispatch.planner.mend import Mend
from dispatch.planner.no_room import money
from dispatch.planner.plan import Plan, Unplaced
from dispatch.planner.problem import Problem, Stage
from dispatch.planner.reasons import why_never
from dispatch.planner.ways import could_be_done, stages_of, ways_of

Reason = tuple[str, str]
Prices = Mapping[str, float | None]
FindMends = Callable[[Iterable[str]], Mapping[str, Mend]]

_NO_OTHER = "; no other way of doing it fits either"


def explain(
    problem: Problem,
    plan: Plan,
    cents_to_add: Prices,
    mends: FindMends = lambda _: {},
) -> tuple[Unplaced, ...]:
    """Return every stage of the plan without a visit.

    `cents_to_add` prices each, None: no room. `mends` is asked once what would let those in that
    have no room; it may leave out what it had no time for.
    """
    seen = plan.visits()
    missing = {
        s.id: s
        for s in problem.stages.values()
        if in_plan(s, plan.chosen) and s.id not in seen
    }
    proven = _proven(problem, plan, missing)
    left = [name for name in missing if name not in proven]
    found = mends([name for name in left if cents_to_add.get(name) is None])
    beside = {
        name: _priced(missing[name], cents)
        if (cents := cents_to_add.get(name)) is not None
        else no_room.reason(problem, plan, missing[name], found.get(name, Mend()))
        for name in left
    }
    reasons = proven | beside
    return tuple(
        Unplaced(stage=name, code=reasons[name][0], why=reasons[name][1])
        for name in missing
    )


def _proven(
    problem: Problem, plan: Plan, missing: Mapping[str, Stage]
) -> dict[str, Reason]:
    """Return the reasons of what no plan could do, and of what hangs on something left out."""
    never = {
        name: _in_any_way(problem, plan, stage, reason)
        for name, stage in missing.items()
        if (reason := why_never(problem, stage)) is not None
    }
    hanging = {
        name: reason
        for name, stage in missing.items()
        if (reason := _hangs(stage, missing, never)) is not None
    }
    known = hanging | never
    clashing = {
        name: reason
        for name, stage in missing.items()
        if name not in known and (reason := _clashes(problem, plan, stage)) is not None
    }
    return known | clashing


def _in_any_way(problem: Problem, plan: Plan, stage: Stage, reason: Reason) -> Reason:
    """Return the reason of a stage that cannot be done, and that no other way of doing its job is better."""
    _, *others = ways_of(problem, plan, stage)
    if not others or any(could_be_done(problem, stage, way) for way in others):
        return reason
    code, sentence = reason
    return code, f"{sentence.removesuffix('.')}{_NO_OTHER}."


def _clashes(problem: Problem, plan: Plan, stage: Stage) -> Reason | None:
    """Return the reason of a stage whose job cannot be finished in any way it may be done."""
    ways = [stages_of(problem, stage, way) for way in ways_of(problem, plan, stage)]
    found = [clash(problem, stages) for stages in ways]
    first = found[0]
    if first is None or any(other is None for other in found):
        return None
    others = _NO_OTHER if len(ways) > 1 else ""
    if first.stage == stage.id:
        return "no-room", f"{first.sentence}{others}."
    return (
        "not-worth",
        f"Its job cannot be finished: {first.sentence}{others}.",
    )


def _hangs(
    stage: Stage, missing: Mapping[str, Stage], never: Mapping[str, Reason]
) -> Reason | None:
    waits = [a.stage for a in stage.after if a.stage in missing]
    if waits:
        return "waits-for", f"It comes after {waits[0]}, which is not in the plan."
    blocks = [n for n in never if n != stage.id and missing[n].job == stage.job]
    needed = [name for name in blocks if not missing[name].extra]
    if needed and not stage.extra:
        return (
            "job-blocked",
            f"{needed[0]} of the same job cannot be placed, so doing this one is worth nothing.",
        )
    return None


def _priced(stage: Stage, cents: float) -> Reason:
    """Return the reason of a stage that has room, by what it adds to the week's cost."""
    if cents < 0:
        return (
            "no-room",
            f"It may yet fit, and the week would cost {money(-cents)} less; build with more seconds.",
        )
    if stage.extra:
        return (
            "not-worth",
            f"Doing it adds {money(cents)} more than the {money(stage.drop_cents)} that leaving it out costs.",
        )
    return (
        "not-worth",
        f"Finishing its job would raise the week's cost by {money(cents)}.",
    )
