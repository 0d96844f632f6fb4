"""Moves one stage to another day; what follows from it is put in again where it costs least."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from dispatch.planner.core.shapes import Week
from dispatch.planner.core.weeks import to_plan
from dispatch.planner.plan import Plan, Unplaced
from dispatch.planner.reasons import why_never
from dispatch.planner.solve.laid import followers
from dispatch.planner.solve.remove import removable
from dispatch.planner.solve.whatif import WhatIf


@dataclass(frozen=True, kw_only=True, slots=True)
class Shift:
    """A stage on another day: the plan that has it there, neither judged nor priced, or why it cannot.

    `lost` are stages that had a visit and have none in it.
    """

    day: int
    lost: tuple[str, ...] = ()
    plan: Plan | None = None
    why_not: str = ""


def shifted(whatif: WhatIf, stage: str, day: int) -> Shift:
    """Return the week with a placed stage on a day, all that does not follow from it in its van-day."""
    number = whatif.facts.number[stage]
    fault = _fixed(whatif, number, day) or _never(whatif, number, day)
    if fault:
        return Shift(day=day, why_not=fault)
    block = _block(whatif, number)
    gone = [s for s in followers(whatif.facts, block) if s in whatif.state.seen]
    week = whatif.without(gone)
    with whatif.only_on(block, day):
        stuck = whatif.put(week, _in_order(whatif, block))
        if stuck is not None:
            week = _towed(whatif, gone, whatif.facts.job_of[number])
    if week["seen"][number]["route"] < 0 or _day(whatif, week, number) != day:
        return Shift(day=day, why_not=_full(whatif, block, day))
    for later in _in_order(whatif, set(gone) - block):
        if not whatif.waits(week, later):
            whatif.put(week, [later])
    return _plan(whatif, week, day)


def _fixed(whatif: WhatIf, number: int, day: int) -> str:
    """Say why the stage may not be moved at all."""
    if number not in whatif.state.seen:
        return "It has no visit to move."
    if whatif.facts.stages[number].pinned is not None:
        return "It is pinned; take the pin out first."
    if not removable(whatif.state, number):
        return "It is done or under way."
    if whatif.state.seen[number].key[1] == day:
        return f"It is on day {day + 1} already."
    return ""


def _never(whatif: WhatIf, number: int, day: int) -> str:
    """Say why no plan could have the stage on that day, if that is proven."""
    first, last = whatif.problem.days[day]
    stage = whatif.facts.stages[number]
    cut = [(max(a, first), min(b, last)) for a, b in stage.windows]
    windows = tuple((a, b) for a, b in cut if a < b and b > whatif.problem.now)
    if not windows:
        return f"It has no window on day {day + 1}."
    proven = why_never(whatif.problem, replace(stage, windows=windows))
    return proven[1] if proven else ""


def _block(whatif: WhatIf, number: int) -> set[int]:
    """Return the placed stages that must share the stage's van-day, itself with them."""
    block = whatif.given["stages"]["block"]
    same = {s for s in whatif.state.seen if block[s] == block[number]}
    return {s for s in same if removable(whatif.state, s)}


def _in_order(whatif: WhatIf, stages: Iterable[int]) -> list[int]:
    """Return stages in the order they had, which is one that keeps what comes first first."""
    return sorted(stages, key=lambda s: whatif.state.seen[s].start)


def _towed(whatif: WhatIf, gone: Iterable[int], job: int) -> Week:
    """Return the week with the job put in as a whole, a trailer towed ahead for it if need be."""
    walker = whatif.trial(whatif.without(gone))
    walker.room["lacked"] = 1
    walker.room["lacked"][job] = 0
    walker.fill(job)
    return walker.now


def _day(whatif: WhatIf, week: Week, number: int) -> int:
    return int(week["seen"][number]["route"]) // len(whatif.facts.vans)


def _full(whatif: WhatIf, block: set[int], day: int) -> str:
    facts = whatif.facts
    minutes = sum(min(facts.stages[s].minutes.values()) for s in block)
    return f"No team with a van has room for its {minutes} minutes on day {day + 1} beside what is planned."


def _plan(whatif: WhatIf, week: Week, day: int) -> Shift:
    """Return the week as a plan, with what it leaves out."""
    plan = to_plan(whatif.problem, week)
    lost = tuple(sorted(whatif.plan.visits().keys() - plan.visits().keys()))
    plan = replace(plan, unplaced=_left_out(whatif, plan, lost, day))
    return Shift(day=day, lost=lost, plan=plan)


def _left_out(
    whatif: WhatIf, plan: Plan, lost: Iterable[str], day: int
) -> tuple[Unplaced, ...]:
    """Return what the plan leaves out, for the reasons it had where it had one."""
    seen = plan.visits()
    kept = [u for u in whatif.plan.unplaced if u.stage not in seen]
    why = f"It found no place once a stage before it moved to day {day + 1}."
    return (*kept, *(Unplaced(stage=s, code="no-room", why=why) for s in lost))
