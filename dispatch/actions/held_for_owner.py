"""Boats that nobody could get to: where the crew waits, and which were left and are held for the owner."""

from collections.abc import Mapping
from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import board_words, clock, one_moment
from dispatch.notices.reasons import Reason
from dispatch.records.models import Job, Notice, ShutOut, Stage, Visit
from dispatch.trade.spans import Span


def standing() -> Mapping[int, ShutOut]:
    """What is not over yet, by its job's number."""
    return one_moment.once("shut-out", _standing)


def _standing() -> dict[int, ShutOut]:
    rows = ShutOut.objects.filter(
        over_at=None, job__state__in=(Job.State.AGREED, Job.State.IN_HAND)
    )
    found = rows.select_related("job__boat__place", "job__boat__customer", "person")
    return {row.job_id: row for row in found}


def jobs() -> list[int]:
    """The numbers of the jobs that were left and are held for the owner: no week plans them."""
    return [number for number, row in standing().items() if row.left_at]


def of(stage: Stage) -> ShutOut | None:
    """What keeps a crew from a stage: that they wait for just that visit, or that her boat was left."""
    row = standing().get(stage.job_id)
    if row is None or (row.left_at is None and row.stage_id != stage.pk):
        return None
    return row


def said(row: ShutOut, now: datetime) -> str:
    """What the crew is to do about it, as a sentence."""
    zone = ZoneInfo(row.job.boat.place.time_zone)
    since, until = (board_words.when(one, zone) for one in (row.since, row.until))
    if row.left_at is not None:
        return (
            f"Nobody could get to her {since}, so she was left {board_words.when(row.left_at, zone)} and is held for the "
            "owner. Ask the owner before you go back."
        )
    if now < row.until:
        return f"Nobody could get to her {since}: wait until {until}, and call her owner meanwhile."
    return f"The wait since {since} was over at {until}. Go on waiting, or leave her for the owner."


def fact(row: ShutOut) -> str:
    """What a message that the crew came is about: that day."""
    since = row.since.astimezone(ZoneInfo(row.job.boat.place.time_zone))
    return f"came {since.date().isoformat()}"


def told(row: ShutOut) -> bool:
    """Whether the customer was written to that the crew came that day, or is about to be."""
    rows = Notice.objects.filter(
        job=row.job, reason=Reason.CAME, fact=f"{row.job.key} {fact(row)}"
    )
    return rows.exclude(state__in=(Notice.State.DROPPED, Notice.State.REFUSED)).exists()


def was_left(visit: Visit) -> bool:
    """Whether the team of a visit left without having got to her, so that nobody is at it now."""
    rows = visit.stage.shut_outs.all()
    return any(row.left_at and row.left_at >= visit.van_day.depart for row in rows)


def over(job: Job) -> int:
    """Note that somebody can get to a boat, or is dealing with it; return for how many it stood."""
    return ShutOut.objects.filter(job=job, over_at=None).update(over_at=clock.now())


def waited(row: ShutOut, now: datetime) -> Span:
    """From when to when somebody waited, up to now where they still do."""
    return Span(row.since, max(row.left_at or now, row.since))
