"""Fixed appointments of posted jobs, as a lift slot: the yard gives another minute, and the job is planned by that."""

from collections.abc import Iterator
from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import QuerySet

from dispatch.actions import (
    access,
    announcing,
    book,
    calling,
    clock,
    due,
    history,
    slips,
    taken_off,
    term_entries,
    visits_off,
)
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused, Stale
from dispatch.notices.reasons import Reason
from dispatch.records.models import Account, Job, Notice, Stage, Week

VERB = slips.APPOINTMENT
_PLANNED = (Job.State.AGREED, Job.State.IN_HAND)


def to_come() -> tuple[Job, ...]:
    """The planned jobs that are held to a minute and of which that visit is not begun, the soonest first."""
    rows = Job.objects.filter(
        state__in=_PLANNED,
        stages__fixed_start__isnull=False,
        stages__state=Stage.State.TO_DO,
    )
    found = rows.select_related("boat__place", "boat__customer").distinct()
    return tuple(found.order_by("fixed_start"))


def may_move(job: Job) -> bool:
    """Whether a job is held to a minute that may still be moved."""
    return job.state in _PLANNED and _held(job).exists()


def read(job: Job, written: str) -> datetime | None:
    """A day and a time as the owner writes them, on the clock of the job's place; None where nothing was.

    Raises:
        Refused: it is no day and time.
    """
    rows = term_entries.promised(job.boat.place.time_zone)
    entry = next(row for row in rows if row.name == "fixed_start")
    try:
        found: datetime | None = entry.read(written)
    except ValueError as error:
        raise Refused(f"{error} Nothing was moved.") from error
    return found


@transaction.atomic
def move(job: Job, to: datetime | None, *, by: Account, why: str = "") -> str:
    """Hold a job to another minute; return it as a sentence, with the promise that it outruns.

    Its posted visits ahead are taken off, for they stood by the old one, and so are messages that wait about
    them. Who was told of them is told anew when the week is posted again; at once where the new minute is in
    another week.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is held to no minute, the new one cannot be, or everything is held still and visits would be taken off.
        Stale: somebody moved it there in this moment.
    """
    access.owner(by)
    stood = Job.objects.select_for_update().get(pk=job.pk)
    before = stood.fixed_start
    if before is None or not may_move(stood):
        raise Refused(
            f"{job.boat.name} has no appointment to come that could be moved."
        )
    zone = ZoneInfo(job.boat.place.time_zone)
    to = _checked(to, before, zone)
    if not Job.objects.filter(pk=job.pk, version=stood.version).update(
        fixed_start=to, version=stood.version + 1
    ):
        raise Stale(f"{job.boat.name} was changed in this moment. Load the page again.")
    held = list(_held(stood).values_list("pk", flat=True))
    Stage.objects.filter(pk__in=held).update(fixed_start=to)
    off = taken_off.off(stood, tell=False)
    for pk in held:
        due.put("judge-stage", str(pk))
    sentence = (
        f"{job.boat.name}: the appointment of {dated(before, zone)} is {dated(to, zone)} now."
        f"{taken_off.counted(off)}"
    )
    history.write(VERB, f"job {job.key}", sentence, by=by, why=why)
    stood.refresh_from_db()
    _tell(stood, before, to.astimezone(zone).date())
    return sentence + _outrun(stood, to, zone)


def _outrun(job: Job, to: datetime, zone: ZoneInfo) -> str:
    """What a job's promise says where the appointment is later than it; empty where it is not."""
    if job.promised_by is None or to < job.promised_by:
        return ""
    by = dated(job.promised_by, zone)
    return (
        f" She is promised by {by}, before that: change the promise on the job's page."
    )


def _tell(job: Job, before: datetime, day: date) -> None:
    """Tell at once who was told of visits in another week than the new day's; who knows the old minute alone is called."""
    known = [row for row in slips.still_told(job) if not slips.stands(row)]
    for notice in known:
        if not _same_week(slips.day(notice.fact), day):
            visits_off.tell(job, notice)
    slot = f"{announcing.OFF_BY_APPOINTMENT} {before.isoformat()}"
    said = Notice.objects.filter(
        job=job, state__in=slips.TOLD, version__startswith=slot
    )
    if not known and said.exists():
        zone = ZoneInfo(job.boat.place.time_zone)
        calling.ask(
            job,
            f"{job.boat.customer.name} was told that the appointment of {job.boat.name} is {dated(before, zone)}, and it was moved.",
            "Call {customer} by hand.",
        )


def then(job: Job) -> str:
    """What becomes of who was told of visits that were taken off, as a sentence; empty where nobody was told."""
    customer, zone = job.boat.customer, ZoneInfo(job.boat.place.time_zone)
    known = told(job)
    if known is not None and known.begins_at is not None:
        was = f"{customer.name} was told {dated(known.begins_at, zone)}"
        if not announcing.reachable(customer):
            return f"{was}: call by hand, for neither text nor e-mail may go."
        return f"{was}, and is told the new time once you post the week with it."
    waits = Notice.objects.filter(
        job=job, reason=Reason.MOVED, state=Notice.State.WAITING
    ).first()
    if waits is None:
        return ""
    at_once = waits.due_at <= clock.now()
    due_at = "at once" if at_once else dated(waits.due_at, zone)
    return f"{customer.name} is told by message {due_at} that it moved."


def _same_week(day: date, other: date) -> bool:
    """Whether two days are in one week of the plan."""
    here = Week.objects.filter(starts_on__lte=day).order_by("-starts_on").first()
    return here is not None and str(other) in slips.days(here)


def told(job: Job) -> Notice | None:
    """The last message that told a visit to come which does not stand any more, where there is one."""
    for row in _told_wrong(job):
        return slips.told(job, row.fact.removeprefix(f"{job.key} "))
    return None


def _told_wrong(job: Job) -> Iterator[Notice]:
    """The messages that told of a visit to come which does not stand any more, and that was not taken back."""
    for row in slips.still_told(job):
        if not slips.stands(row) and not _taken_back(row):
            yield row


def _taken_back(notice: Notice) -> bool:
    """Whether a message that the visit is off has gone out since, or waits to."""
    later = Notice.objects.filter(
        job=notice.job, reason=Reason.MOVED, fact=notice.fact, pk__gt=notice.pk
    ).exclude(state=Notice.State.DROPPED)
    return later.filter(version__startswith=announcing.OFF).exists()


def _held(job: Job) -> QuerySet[Stage]:
    return job.stages.filter(fixed_start__isnull=False, state=Stage.State.TO_DO)


def _checked(to: datetime | None, before: datetime, zone: ZoneInfo) -> datetime:
    if to is None:
        raise Refused("Say the new day and time of the appointment. Nothing was moved.")
    if to <= clock.now():
        raise Refused(
            f"{dated(to, zone)} has gone by. Give a time to come. Nothing was moved."
        )
    if to == before:
        raise Refused(f"It is {dated(to, zone)} already. Nothing was moved.")
    book.check_moment(to)
    return to
