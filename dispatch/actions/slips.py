"""A visit that a customer was told of and that does not hold: told at once, and taken out of their calendar."""

from collections.abc import Collection, Mapping
from datetime import timedelta

from django.db.models import QuerySet

from dispatch.actions import announcing, calling, clock, visit_sky
from dispatch.actions.announcing import Told
from dispatch.notices.reasons import Arrival, Moved, Reason
from dispatch.records.models import (
    Bump,
    HistoryEntry,
    Job,
    Notice,
    Visit,
    Week,
    WeekPlan,
)
from dispatch.trade.spans import Span

# Within what was told anyway: nobody is told again of less.
LEAST = timedelta(minutes=30)
_WHY = "the week had to be planned anew"
_WHY_OFF = "the job was put off or called off"
# The verb of a fixed appointment that was moved.
APPOINTMENT = "move-appointment"
_WHY_APPOINTMENT = "the fixed appointment, as a lift slot, was moved"
# What is told ahead of a visit, and is wrong once the visit is off.
AHEAD = (Reason.AHEAD, Reason.ARRIVAL, Reason.MORNING, Reason.MOVED)
_TOLD = (Notice.State.SENT, Notice.State.CLAIMED, Notice.State.UNKNOWN)


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
        state__in=_TOLD,
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
    why = _why(job, fact)
    told_now = Moved(about=occasion.about, arrives=occasion.arrives, why=why)
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


def fallen_out(plan: WeekPlan) -> None:
    """Tell of each visit that was told and stands no more: when the crew comes instead, where that is settled."""
    here = days(plan.week)
    told_of = Notice.objects.filter(
        reason=Reason.ARRIVAL, state__in=_TOLD, ends_at__gt=clock.now()
    ).select_related("job__boat__place", "job__boat__customer")
    gone = {
        (notice.job_id, notice.fact): notice
        for notice in told_of.order_by("pk")
        if notice.job and notice.fact.rpartition(" ")[2] in here
    }
    for notice in gone.values():
        if notice.job is not None and not stands(notice):
            _off(notice.job, notice)


def stands(notice: Notice) -> bool:
    """Whether the day is still visited, or is being: what was begun stays, whichever plan it was of."""
    on = notice.fact.rpartition(" ")[2]
    return Visit.objects.filter(stage__job=notice.job, van_day__on=on).exists()


def _standing(job: Job | None) -> QuerySet[Visit]:
    return Visit.objects.filter(
        stage__job=job, van_day__plan__state=WeekPlan.State.STANDING
    ).select_related("stage__job__boat__place", "van_day")


def all_off(job: Job) -> None:
    """Tell of each visit ahead that was told and stands no more, of a job that left the plan."""
    for notice in still_told(job):
        if not stands(notice):
            _off(job, notice, _WHY_OFF)


def still_told(job: Job) -> tuple[Notice, ...]:
    """The last message to tell when the crew comes, of each visit to come that was told."""
    rows = Notice.objects.filter(
        job=job, reason=Reason.ARRIVAL, state__in=_TOLD, ends_at__gt=clock.now()
    ).select_related("job__boat__place", "job__boat__customer")
    return tuple({one.fact: one for one in rows.order_by("pk")}.values())


def _why(job: Job, fact: str) -> str:
    """The reason of a visit that moves: its appointment, or what the sky turned to since it was told, where that was it."""
    before = told(job, fact)
    turned = HistoryEntry.objects.filter(
        verb__in=("sky-turned", APPOINTMENT), subject=f"job {job.key}"
    )
    if before is not None and before.settled_at is not None:
        turned = turned.filter(at__gte=before.settled_at)
    last = turned.order_by("-pk").first()
    if last is not None and last.verb == APPOINTMENT:
        return _WHY_APPOINTMENT
    if last is None or not last.sentence.startswith(visit_sky.FORBIDDEN):
        return _WHY
    return f"the weather, {last.why[:1].lower()}{last.why[1:].rstrip('.')}"


def _bumped_before(job: Job, fact: str) -> int:
    """How often a job gave way this season before: by hand in other weeks or as it was taken over, and each other visit told that is off."""
    offs = Notice.objects.filter(
        job=job, reason=Reason.MOVED, version__startswith=announcing.OFF
    ).exclude(state=Notice.State.DROPPED)
    others = set(offs.values_list("fact", flat=True)) - {f"{job.key} {fact}"}
    # That she is left out of this very week by hand is what is to be told, and not from before.
    day = fact.rpartition(" ")[2]
    here = Week.objects.filter(starts_on__lte=day).order_by("-starts_on").first()
    now = Bump.objects.filter(job=job, week=here).count()
    return max(0, job.bumped - now) + len(others)


def _off(job: Job, notice: Notice, why: str = "") -> None:
    """Tell that a visit is off; who gives way a second time is called by hand, never written to.

    ``why`` is given where nobody gives way: the job itself is put off or called off.
    """
    fact = notice.fact.removeprefix(f"{job.key} ")
    if not why and (times := _bumped_before(job, fact)):
        calling.ask(
            job,
            f"The visit to {job.boat.name} that was told is off, and she gave way before {'once' if times == 1 else f'{times} times'} this season.",
            "Call {customer} by hand: no message was written.",
        )
        return
    later = _standing(job).filter(start__gt=clock.now()).order_by("start").first()
    occasion = Moved(
        about=announcing.about(job),
        arrives=announcing.arrives(later) if later else None,
        why=why or _why(job, fact),
    )
    if notice.begins_at is None or notice.ends_at is None:
        return
    before = Told(span=Span(notice.begins_at, notice.ends_at), off=True)
    announcing.put(job, occasion, fact, clock.now(), told=before)
