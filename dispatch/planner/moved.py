"""What moving a stage to another day costs: the moved week judged, and priced to the cent."""

from dataclasses import dataclass, replace

from dispatch.planner.cost import cost
from dispatch.planner.plan import Plan
from dispatch.planner.rules import judge
from dispatch.planner.solve.shift import shifted
from dispatch.planner.solve.whatif import WhatIf


@dataclass(frozen=True, kw_only=True, slots=True)
class Moved:
    """A stage on another day: the plan that has it there and what it adds in cents, or why it cannot.

    `plan` keeps every rule and states its cost; `lost` are stages that had a visit and have none in it.
    """

    day: int
    cents: int = 0
    lost: tuple[str, ...] = ()
    plan: Plan | None = None
    why_not: str = ""


def moved(whatif: WhatIf, stage: str, day: int) -> Moved:
    """Return what moving a placed stage to a day (its number, from 0) would cost the whole week."""
    shift, problem = shifted(whatif, stage, day), whatif.problem
    if shift.plan is None:
        return Moved(day=day, why_not=shift.why_not)
    plan = replace(shift.plan, cost=cost(problem, shift.plan))
    faults = judge(problem, plan)
    if faults:
        sentence = f"No week that keeps every rule was found: {faults[0]}"
        return Moved(day=day, why_not=sentence)
    cents = plan.cost["total"] - cost(problem, whatif.plan)["total"]
    return Moved(day=day, cents=cents, lost=shift.lost, plan=plan)
