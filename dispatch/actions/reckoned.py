"""A job reckoned before it is taken: its minutes, product, price and the days to promise; nothing is stored."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import clock, rates, room_ahead, show_estimate
from dispatch.actions.show_estimate import Estimate
from dispatch.records.models import Duty, Job
from dispatch.trade import promising
from dispatch.trade.promising import Slip


@dataclass(frozen=True, kw_only=True)
class Reckoned:
    """What a job would take and cost. ``days`` to promise are by the hours that are free; None within four months."""

    estimate: Estimate
    days: tuple[date, date] | None
    sprays: bool


def of(take: Callable[[], Job]) -> Reckoned:
    """Take a job, reckon it and take it back again, whatever else the taking stored with it.

    Raises:
        Refused: what the taking refuses.
    """
    with transaction.atomic():
        found = _of(take())
        transaction.set_rollback(True)
    return found


def _of(job: Job) -> Reckoned:
    return Reckoned(
        estimate=show_estimate.of(job),
        days=_days(job),
        sprays=job.stages.filter(family="spray").exists(),
    )


def _days(job: Job) -> tuple[date, date] | None:
    """The range to promise from the days on which the job would find room."""
    minutes = room_ahead.labour(job)
    others_first = job.state in (Job.State.AGREED, Job.State.IN_HAND)
    room = room_ahead.room_for(minutes, less=minutes if others_first else 0.0)
    if room is None:
        return None
    slip = rates.promises()
    return promising.range_of(
        room,
        sprays=job.stages.filter(family="spray").exists(),
        made_on=clock.now().astimezone(ZoneInfo(job.boat.place.time_zone)).date(),
        weekdays=frozenset(Duty.objects.values_list("weekday", flat=True)) or range(7),
        slip=Slip(
            near_days=round(slip.near_days),
            far_days=round(slip.far_days),
            far_after_days=round(slip.far_after_days),
        ),
    )
