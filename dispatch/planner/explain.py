"""Why each stage left out is left out: a code of the contract and a sentence with numbers."""

from collections.abc import Mapping

from dispatch.planner.cost import in_plan
from dispatch.planner.plan import Plan, Unplaced
from dispatch.planner.problem import Problem, Stage
from dispatch.planner.reasons import why_never

Reason = tuple[str, str]


def explain(
    problem: Problem, plan: Plan, cents_to_add: Mapping[str, float | None]
) -> tuple[Unplaced, ...]:
    """Return every stage of the plan without a visit; `cents_to_add` prices each, None: no room."""
    seen = plan.visits()
    missing = {
        s.id: s
        for s in problem.stages.values()
        if in_plan(s, plan.chosen) and s.id not in seen
    }
    never = {name: why_never(problem, stage) for name, stage in missing.items()}
    found = []
    for name, stage in missing.items():
        code, why = never[name] or _beside(stage, missing, never, cents_to_add)
        found.append(Unplaced(stage=name, code=code, why=why))
    return tuple(found)


def _beside(
    stage: Stage,
    missing: Mapping[str, Stage],
    never: Mapping[str, Reason | None],
    cents_to_add: Mapping[str, float | None],
) -> Reason:
    """Return the reason of a stage that could be done, were it alone."""
    waits = [a.stage for a in stage.after if a.stage in missing]
    if waits:
        return "waits-for", f"It comes after {waits[0]}, which is not in the plan."
    blocks = [
        name
        for name, other in missing.items()
        if other.job == stage.job and name != stage.id and never[name]
    ]
    if blocks and not stage.extra:
        return (
            "job-blocked",
            f"{blocks[0]} of the same job cannot be placed, so doing this one is worth nothing.",
        )
    added = cents_to_add.get(stage.id)
    if added is None:
        quickest = min(stage.minutes.values())
        return (
            "no-room",
            f"No place was found for its {quickest} minutes beside what is planned; free a van-day or a person.",
        )
    if stage.extra:
        return (
            "not-worth",
            f"Doing it adds {_money(added)} more than the {_money(stage.drop_cents)} that leaving it out costs.",
        )
    return (
        "not-worth",
        f"Finishing its job would raise the week's cost by {_money(added)}.",
    )


def _money(cents: float) -> str:
    """Return an amount as the pages write it: the sign, the dollars, the cents."""
    return f"${max(0.0, cents) / 100:,.2f}"
