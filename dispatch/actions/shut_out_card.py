"""What a visit's card tells of a boat that the crew cannot get to: the wait, whom to call, and the boat to go to instead."""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from dispatch.actions import held_for_owner, next_boat, rates
from dispatch.actions.next_boat import Near
from dispatch.records.models import ShutOut, Stage, Visit


@dataclass(frozen=True, kw_only=True)
class ShutOutCard:
    """Whom to call, how long the wait is, and how it stands: nothing told yet where ``since`` is None.

    ``due``: the wait is over. ``near`` are boats that could be begun instead, once it is.
    """

    customer: str
    phone: str
    minutes: int
    since: datetime | None = None
    until: datetime | None = None
    left_at: datetime | None = None
    due: bool = False
    photos: int = 0
    near: tuple[Near, ...] = ()


def of(visit: Visit, now: datetime) -> ShutOutCard | None:
    """The card of a visit that nobody began; None of others."""
    stage = visit.stage
    if stage.state != Stage.State.TO_DO:
        return None
    customer, row = stage.job.boat.customer, held_for_owner.of(stage)
    minutes = round(rates.crew().gate_wait_minutes)
    if row is None:
        return ShutOutCard(
            customer=customer.name, phone=customer.phone, minutes=minutes
        )
    due = row.left_at is not None or now >= row.until
    return ShutOutCard(
        customer=customer.name,
        phone=customer.phone,
        minutes=minutes,
        since=_local(row, row.since),
        until=_local(row, row.until),
        left_at=_local(row, row.left_at),
        due=due,
        photos=row.photos.count(),
        near=next_boat.near(visit, now) if due else (),
    )


def _local(row: ShutOut, moment: datetime | None) -> datetime | None:
    zone = ZoneInfo(row.job.boat.place.time_zone)
    return moment.astimezone(zone) if moment else None
