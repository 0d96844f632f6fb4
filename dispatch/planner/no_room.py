"""Words for a stage that finds no room: what would let it in, what it would push out, at what price."""

from dispatch.planner.around import when
from dispatch.planner.mend import Mend
from dispatch.planner.plan import Plan
from dispatch.planner.problem import Problem, Stage

Reason = tuple[str, str]


def reason(problem: Problem, plan: Plan, stage: Stage, mend: Mend) -> Reason:
    """Return the code and the sentence of a stage that could be done, were there room."""
    if mend.never:
        return _never(problem, stage, problem.stages[mend.never])
    if mend.cents is None:
        return "no-room", _plain(stage, tried=mend.tried)
    if mend.says:
        return "no-room", f"{mend.says}{_worth(problem, plan, stage, mend.cents)}"
    return "no-room", _pushing(problem, plan, mend, mend.cents)


def money(cents: float) -> str:
    """Return an amount as the pages write it: the dollars, the cents, no sign."""
    return f"${max(0.0, cents) / 100:,.2f}"


def _plain(stage: Stage, *, tried: bool) -> str:
    quickest = min(stage.minutes.values())
    if tried:
        return (
            f"No place was found for its {quickest} minutes, and no one thing lets its job in: no person, van "
            "or trailer more, no two hours more on a day, no other job left out."
        )
    return f"No place was found for its {quickest} minutes beside what is planned; free a van-day or a person."


def _worth(problem: Problem, plan: Plan, stage: Stage, cents: float) -> str:
    """Return what letting it in adds, and what is saved by doing it."""
    saved = _left_out_cents(problem, plan, stage)
    doing = "doing it" if stage.extra else "finishing its job"
    if cents + saved < 0:
        return f", and {doing} would make the week {money(-cents)} cheaper."
    added = money(cents + saved)
    if cents < 0:
        return f": it adds {added}, and {doing} saves {money(saved)}."
    return f", but it adds {added} and {doing} saves only {money(saved)}."


def _left_out_cents(problem: Problem, plan: Plan, stage: Stage) -> int:
    """Return what leaving it out costs, with all that its job lacks beside extras."""
    if stage.extra:
        return stage.drop_cents
    seen = plan.visits()
    lost = [
        s.drop_cents
        for s in problem.stages.values()
        if s.job == stage.job
        and not s.extra
        and s.id not in seen
        and s.variant in (None, plan.chosen.get(s.job))
    ]
    return problem.jobs[stage.job].unfinished_cents + sum(lost)


def _pushing(problem: Problem, plan: Plan, mend: Mend, cents: float) -> str:
    price = f"{money(abs(cents))} {'less' if cents < 0 else 'more'}"
    if not mend.pushes_out:
        return f"It would fit if other visits moved; the week would cost {price}."
    visits = plan.visits()
    first = min(mend.pushes_out, key=lambda name: visits[name][1].start)
    at = when(problem, visits[first][1].start)
    more = len(mend.pushes_out) - 1
    others = f" and {more} more" if more else ""
    return f"It would push out {first} ({at}){others}; the week would cost {price}."


def _never(problem: Problem, stage: Stage, stuck: Stage) -> Reason:
    """Return the reason of a job that cannot be finished even in an empty week."""
    why = _clash(problem, stuck)
    if stage.id == stuck.id:
        return (
            "no-room",
            f"No place was found for it even with nothing else planned{why}.",
        )
    return (
        "not-worth",
        f"No way was found to finish its job: {stuck.id} has no place even with nothing else planned{why}.",
    )


def _clash(problem: Problem, stage: Stage) -> str:
    """Return what binds the stage to those before it, with the numbers."""
    shared = [a.stage for a in stage.after if a.same_van_day]
    if shared:
        stages = [problem.stages[name] for name in (*shared, stage.id)]
        minutes = sum(min(s.minutes.values()) for s in stages)
        names = " and ".join(s.id for s in stages)
        return f"; {names} must share a van-day and take {minutes} minutes"
    return f"; it comes after {stage.after[0].stage}" if stage.after else ""
