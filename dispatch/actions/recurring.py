"""Work that comes again: its next time is a job of its own, taken when it comes near; never doubled, never skipped twice running."""

from collections.abc import Mapping
from datetime import datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import access, book, clock, history, prices, terms
from dispatch.actions.entries import DOLLARS, Entry
from dispatch.actions.errors import Refused
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Account, Boat, Job, JobKind, Recurring

# So long before its first good day a time of it is taken into the book.
_AHEAD_DAYS = 10
_FROM, _BY = time(7, 30), time(17)
_DAYS = Unit(text="days")
_OPEN = (Job.State.ASKED, Job.State.AGREED, Job.State.IN_HAND, Job.State.PUT_OFF)


def entered() -> tuple[Entry, ...]:
    """What is entered of work that comes again; kinds that spray do not."""
    boats = tuple(Boat.objects.values_list("key", "name"))
    kinds = JobKind.objects.filter(sprays=False).exclude(rows=None).distinct()
    return (
        Entry(name="boat", label="Boat", kind="pick", choices=boats),
        Entry(
            name="kind",
            label="Work",
            kind="pick",
            choices=tuple(kinds.values_list("key", "name")),
        ),
        Entry(
            name="every_days",
            label="Every",
            kind="whole",
            unit=_DAYS,
            least=2,
            most=400,
        ),
        Entry(
            name="slack_days",
            label="Give or take",
            kind="whole",
            unit=_DAYS,
            most=60,
        ),
        Entry(name="next_on", label="Next on", kind="date"),
        Entry(name="grade", label="Condition, 1 to 4", kind="whole", least=1, most=4),
        Entry(
            name="price_cents",
            label="Price each time",
            kind="whole",
            unit=DOLLARS,
            most=100_000_000,
            may_lack=True,
            hint="left empty, the catalogue's",
        ),
    )


def blank() -> dict[str, Any]:
    """What work that comes again begins with."""
    return {"every_days": 14, "slack_days": 3, "grade": 1, "next_on": clock.today()}


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Recurring:
    """Have a boat's work come again.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the days of one time would reach into the next, or it comes again already.
    """
    access.owner(by)
    if 2 * new["slack_days"] >= new["every_days"]:
        raise Refused(
            f"Every {new['every_days']} days, give or take {new['slack_days']}: one time would reach into the next. Give or take less."
        )
    boat, kind = Boat.objects.get(key=new["boat"]), JobKind.objects.get(key=new["kind"])
    if boat.recurring.filter(kind=kind, active=True).exists():
        raise Refused(f"{kind.name} comes again for {boat.name} already.")
    price = new["price_cents"]
    given = dict(new) | {
        "boat": boat,
        "kind": kind,
        "price_cents": _listed_cents(kind, boat, new) if price is None else price,
    }
    row = Recurring.objects.create(**given)
    told = f"{kind.name} for {boat.name} comes every {row.every_days} days, give or take {row.slack_days}."
    history.write("add-recurring", f"boat {boat.key}", told, by=by)
    _take_due(row)
    return row


def _listed_cents(kind: JobKind, boat: Boat, new: Mapping[str, Any]) -> int:
    return prices.listed(kind, boat, grade=int(new["grade"]), repairs={}).cents


@transaction.atomic
def stop(row: Recurring, *, by: Account, why: str = "") -> None:
    """Have it come no more; the job that is in the book stays.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    if Recurring.objects.filter(pk=row.pk, active=True).update(active=False):
        told = f"{row.kind.name} for {row.boat.name} comes no more."
        history.write("stop-recurring", f"boat {row.boat.key}", told, by=by, why=why)


def check() -> int:
    """Take what has come near into the book; return how many jobs."""
    return sum(_take_due(row) for row in Recurring.objects.filter(active=True))


@transaction.atomic
def _take_due(given: Recurring) -> int:
    """Take the next time of it, unless it is far off or the last one is still open."""
    row = Recurring.objects.select_for_update().get(pk=given.pk)
    first = row.next_on - timedelta(days=row.slack_days)
    near = first <= clock.today() + timedelta(days=_AHEAD_DAYS)
    if not row.active or not near or row.jobs.filter(state__in=_OPEN).exists():
        return 0
    try:
        with transaction.atomic():
            _take(row)
    except Refused as refusal:
        _tell_once(row, str(refusal))
        return 0
    on = row.next_on
    while on <= clock.today() or on == row.next_on:
        on += timedelta(days=row.every_days)
    Recurring.objects.filter(pk=row.pk).update(next_on=on)
    return 1


def _take(row: Recurring) -> Job:
    zone = ZoneInfo(row.boat.place.time_zone)
    slack = timedelta(days=row.slack_days)
    # A day gone by is promised no more: the days run from today.
    on = max(row.next_on, clock.today())
    job = book.take_job(
        key=terms.next_key(),
        boat=row.boat,
        kind=row.kind,
        grade=row.grade,
        price_cents=row.price_cents,
        unfinished_cents=row.price_cents,
        promise=Job.Promise.RANGE,
        promised_from=max(
            datetime.combine(on - slack, _FROM, tzinfo=zone), clock.now()
        ),
        promised_by=datetime.combine(on + slack, _BY, tzinfo=zone),
        bumped=_bumped(row),
        note=f"Comes every {row.every_days} days, give or take {row.slack_days}.",
    )
    Job.objects.filter(pk=job.pk).update(recurring=row)
    return job


def _bumped(row: Recurring) -> int:
    """1 where the last time fell out or gave way: the next gives way by the owner's own hand alone."""
    last = row.jobs.order_by("-taken_at", "-pk").first()
    if last is None:
        return 0
    return int(last.state == Job.State.CALLED_OFF or last.bumped > 0)


def _tell_once(row: Recurring, why: str) -> None:
    told = f"{row.kind.name} for {row.boat.name} is due on {row.next_on.isoformat()} and could not be taken: {why}"
    subject = f"boat {row.boat.key}"
    if not history.stands("miss-recurring", subject, told):
        history.write("miss-recurring", subject, told, actor="keeper")
