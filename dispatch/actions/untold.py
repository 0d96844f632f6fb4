"""Whom the owner has not told: visits that stand ahead, whose customers have heard nothing, or something else."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import announcing, clock, slips
from dispatch.actions.board_words import when
from dispatch.notices.reasons import Reason
from dispatch.records.models import Job, Notice, Visit, WeekPlan

_MAY_HAVE_COME = (Notice.State.SENT, Notice.State.CLAIMED, Notice.State.UNKNOWN)


@dataclass(frozen=True, kw_only=True)
class Untold:
    """One boat's day that its customer does not know of as it stands, and what is to come of it."""

    job: str
    boat: str
    customer: str
    start: datetime
    sentence: str
    by_hand: bool


def of(plan: WeekPlan) -> tuple[Untold, ...]:
    """The days ahead of a standing week whose customers have not been told, the soonest first."""
    if plan.state != WeekPlan.State.STANDING:
        return ()
    now = clock.now()
    rows = announcing.by_day(plan)
    known = _known({visits[0].stage.job for visits in rows.values()})
    found = (
        one
        for (job, on), visits in rows.items()
        if visits[0].start > now
        for one in _one(visits, known.get((job, on), []))
    )
    return tuple(sorted(found, key=lambda one: one.start))


def _known(jobs: set[Job]) -> dict[tuple[int | None, str], list[Notice]]:
    """Messages about visits by job and day, the newest first."""
    found: dict[tuple[int | None, str], list[Notice]] = {}
    reasons = (Reason.AHEAD, Reason.ARRIVAL, Reason.MORNING, Reason.MOVED)
    rows = Notice.objects.filter(job__in=jobs, reason__in=reasons).order_by("-pk")
    for notice in rows:
        on = notice.fact.rpartition(" ")[2]
        found.setdefault((notice.job_id, on), []).append(notice)
    return found


def _one(visits: list[Visit], notices: list[Notice]) -> Iterator[Untold]:
    job = visits[0].stage.job
    arrives = announcing.arrives(visits[0])
    came = next((n for n in notices if n.state in _MAY_HAVE_COME and n.begins_at), None)
    if came is not None and slips.holds(came, arrives):
        return
    waits = next((n for n in notices if n.state == Notice.State.WAITING), None)
    by_hand = not announcing.reachable(job.boat.customer)
    zone = ZoneInfo(job.boat.place.time_zone)
    yield Untold(
        job=job.key,
        boat=job.boat.name,
        customer=job.boat.customer.name,
        start=visits[0].start,
        sentence=_said(came, waits, zone, by_hand=by_hand),
        by_hand=by_hand or (waits is None),
    )


def _said(
    came: Notice | None, waits: Notice | None, zone: ZoneInfo, *, by_hand: bool
) -> str:
    told = f"Was told {when(came.begins_at, zone)}. " if came and came.begins_at else ""
    if came and slips.is_off(came):
        told = "Was told that we do not come. "
    if by_hand:
        return f"{told}Neither text nor e-mail may go: call by hand."
    if waits is not None:
        return f"{told}A message goes out {when(waits.due_at, zone)}."
    return f"{told}No message waits: call by hand."
