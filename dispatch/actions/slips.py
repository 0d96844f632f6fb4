"""A visit that a customer was told of and that does not hold: told at once, and taken out of their calendar."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date, timedelta

from django.db.models import QuerySet

from dispatch.actions import announcing, clock, visit_sky
from dispatch.actions.announcing import Told
from dispatch.notices.reasons import Arrival, Moved, Reason
from dispatch.records.models import (
    HistoryEntry,
    Job,
    Notice,
    Visit,
    Week,
)
from dispatch.trade.spans import Span

# Within what was told anyway: nobody is told again of less.
LEAST = timedelta(minutes=30)
_WHY = "the week had to be planned anew"
# Why visits of a job that left the plan are off.
WHY_LEFT: Mapping[str, str] = {
    Job.State.ASKED: "the job is not agreed any more",
    Job.State.PUT_OFF: "the job was put off",
    Job.State.CALLED_OFF: "the job was called off",
    Job.State.HANDED_BACK: "the boat is done",
}
# The verb of a fixed appointment that was moved.
APPOINTMENT = "move-appointment"
_WHY_APPOINTMENT = "the fixed appointment, as a lift slot, was moved"
# What is told ahead of a visit, and is wrong once the visit is off.
AHEAD = (Reason.AHEAD, Reason.ARRIVAL, Reason.MORNING, Reason.MOVED)
TOLD = (Notice.State.SENT, Notice.State.CLAIMED, Notice.State.UNKNOWN)


def told(job: Job, fact: str) -> Notice | None:
    """The last message that told when the crew comes, of those that may have reached the customer."""
    known = _telling().filter(job=job, fact=f"{job.key} {fact}")
    return known.order_by("-pk").first()


def told_of(jobs: Collection[Job]) -> Mapping[str, Notice]:
    """The same of some jobs at once, by the whole fact: the job's key, then what was told."""
    return {row.fact: row for row in _telling().filter(job__in=jobs).order_by("pk")}


def _telling() -> QuerySet[Notice]:
    return Notice.objects.filter(
        reason__in=(Reason.ARRIVAL, Reason.MOVED),
        state__in=TOLD,
        ends_at__isnull=False,
    )


def is_off(before: Notice) -> bool:
    """Whether a message told that a visit will not be."""
    return before.version.startswith(announcing.OFF)


def holds(before: Notice, arrives: Span) -> bool:
    """Whether what was told still does, to half an hour; of a visit that was told to be off nothing does."""
    begins = before.begins_at
    if begins is None or is_off(before):
        return False
    return abs(arrives.start - begins) <= LEAST


def moved(job: Job, occasion: Arrival, fact: str) -> None:
    """Tell that the crew comes at another hour of the day that was told."""
    told_now = Moved(
        about=occasion.about,
        days=(day(fact),),
        arrives=occasion.arrives,
        why=why(job, [fact]),
    )
    told_of = Told(span=occasion.arrives)
    announcing.put(job, told_now, fact, clock.now(), told=told_of)


def withdraw(job: Job, fact: str) -> None:
    """Take back what waits to tell that a visit moved: it stands again as it was told."""
    waiting = Notice.objects.filter(
        job=job,
        reason=Reason.MOVED,
        fact=f"{job.key} {fact}",
        state=Notice.State.WAITING,
    )
    waiting.update(state=Notice.State.DROPPED)


def days(week: Week) -> set[str]:
    """The days of a week, as facts end with them."""
    return {str(week.starts_on + timedelta(days=n)) for n in range(week.days)}


def stands(notice: Notice) -> bool:
    """Whether the day is still visited, or is being: what was begun stays, whichever plan it was of."""
    on = notice.fact.rpartition(" ")[2]
    return Visit.objects.filter(stage__job=notice.job, van_day__on=on).exists()


def still_told(job: Job) -> tuple[Notice, ...]:
    """The last message to tell when the crew comes, of each visit to come that was told."""
    rows = Notice.objects.filter(
        job=job, reason=Reason.ARRIVAL, state__in=TOLD, ends_at__gt=clock.now()
    ).select_related("job__boat__place", "job__boat__customer")
    return tuple({one.fact: one for one in rows.order_by("pk")}.values())


def why(job: Job, facts: Sequence[str]) -> str:
    """Why visits move: their job left the plan, its appointment moved, or the sky turned since they were told, where that was it."""
    if job.state in WHY_LEFT:
        return WHY_LEFT[job.state]
    if by_appointment(job, facts):
        return _WHY_APPOINTMENT
    found = _turned(job, facts)
    if found is None or not found.sentence.startswith(visit_sky.FORBIDDEN):
        return _WHY
    return f"the weather, {found.why[:1].lower()}{found.why[1:].rstrip('.')}"


def by_appointment(job: Job, facts: Sequence[str]) -> bool:
    """Whether visits of a job that is planned move because its fixed appointment did."""
    found = _turned(job, facts)
    planned = job.state not in WHY_LEFT
    return planned and found is not None and found.verb == APPOINTMENT


def _turned(job: Job, facts: Sequence[str]) -> HistoryEntry | None:
    """What happened last, of what moves a visit, since some were told."""
    rows = HistoryEntry.objects.filter(
        verb__in=("sky-turned", APPOINTMENT), subject=f"job {job.key}"
    )
    known = [before for fact in facts if (before := told(job, fact))]
    settled = [before.settled_at for before in known if before.settled_at]
    since = rows.filter(at__gte=min(settled)) if settled else rows
    return since.order_by("-pk").first()


def day(fact: str) -> date:
    """The day of a visit that something was told of."""
    return date.fromisoformat(fact.rpartition(" ")[2])
