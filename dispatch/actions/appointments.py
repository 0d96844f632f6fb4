"""Fixed appointments of posted jobs, as a lift slot: the yard gives another minute, and the job is planned by that."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import QuerySet

from dispatch.actions import (
    access,
    announcing,
    book,
    clock,
    due,
    history,
    slips,
    taken_off,
    term_entries,
)
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused, Stale
from dispatch.notices.reasons import Reason
from dispatch.records.models import Account, Job, Notice, Stage

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
    """Hold a job to another minute; return it as a sentence.

    Its posted visits ahead are taken off, for they stood by the old one, and so are messages that wait about
    them. Who was told of them is told anew when the week is posted again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is held to no minute, or the new one cannot be.
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
    return sentence


def told(job: Job) -> Notice | None:
    """The last message that told a visit to come which does not stand any more, where there is one."""
    for row in slips.still_told(job):
        if not slips.stands(row) and not _taken_back(row):
            return slips.told(job, row.fact.removeprefix(f"{job.key} "))
    return None


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
