"""Ways of a job that a week's plan was not offered, and why: no hours, no use in turning her, another way begun."""

from collections.abc import Iterator
from dataclasses import dataclass

from dispatch.actions import clock, other_ways, outlook, rates, timeline, turns, windows
from dispatch.actions.board_reading import Reading
from dispatch.records.models import Job, Stage, WeekPlan
from dispatch.trade.spans import Span

_OPENED = "Its hours were not open when this plan was made, and are now: plan the rest anew to have it."


@dataclass(frozen=True, kw_only=True)
class Closed:
    """A way that is not open: as the owner asks for it, and why not, in a sentence."""

    name: str
    why: str


def of(plan: WeekPlan, job: Job) -> tuple[Closed, ...]:
    """The ways of a job that a plan was not offered, each with its reason; none once no way of it is open any more."""
    offered = other_ways.offered(plan, job)
    if not offered:
        return ()
    return tuple(
        Closed(name=other_ways.name(job, way), why=_why(plan, job, way))
        for way in dict.fromkeys(stage.variant for stage in job.stages.all())
        if way and way not in offered
    )


def choices(reading: Reading) -> set[str]:
    """The jobs of a plan with an open way and another, open or not."""
    rows = reading.problem.get("jobs", ())
    offered = {row["id"] for row in rows if row["variants"]}
    return {
        job.key
        for job in reading.jobs
        if job.key in offered
        and len({stage.variant for stage in reading.stages_of(job)} - {""}) > 1
    }


def _why(plan: WeekPlan, job: Job, way: str) -> str:
    return next(_reasons(plan, job, way), _OPENED)


def _reasons(plan: WeekPlan, job: Job, way: str) -> Iterator[str]:
    """What keeps a way out, the firmest first."""
    begun = job.stages.exclude(variant__in=("", way)).exclude(state=Stage.State.TO_DO)
    for stage in begun[:1]:
        name = other_ways.name(job, stage.variant)
        yield f"“{name}” was begun; what is begun that way is ended that way."
    week = timeline.of(plan.week).horizon
    if clock.now() >= week.end:
        yield "Its week is over."
    ahead = Span(min(max(week.start, clock.now()), week.end), week.end)
    turn = turns.of(job, ahead) if way == turns.TURNED else None
    if turn is not None and not turn.worth:
        least = rates.extras().turning_worth_minutes
        yield f"What is left of the week gives it neither a day more nor {least:.0f} min less of waiting."
    for stage in job.stages.filter(variant=way, extra=False):
        if not windows.of(stage, ahead):
            yield f"{stage.name} finds no hours in what is left of the week: {outlook.why(stage)}."
