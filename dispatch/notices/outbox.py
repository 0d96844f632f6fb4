"""The outbox: put a message in once, claim it for sending, settle what became of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import F, Q

from dispatch.records.models import Customer, Job, Notice

# A claim older than this belongs to a worker that died while sending.
_LEASE = timedelta(minutes=5)


@dataclass(frozen=True, kw_only=True)
class Fact:
    """One thing to tell one customer: what about, and which version of it."""

    reason: str
    fact: str
    version: str
    customer: Customer
    job: Job
    subject: str
    body: str
    due_at: datetime


def put(fact: Fact, *, channel: str, to: str) -> Notice:
    """Put a message in the outbox; the same fact by the same channel is put in once.

    An earlier version of the fact that has not gone out is dropped, not sent.
    """
    same = Notice.objects.filter(
        reason=fact.reason, fact=fact.fact, customer=fact.customer, channel=channel
    )
    same.filter(state=Notice.State.WAITING).exclude(version=fact.version).update(
        state=Notice.State.DROPPED
    )
    notice, _ = Notice.objects.get_or_create(
        reason=fact.reason,
        fact=fact.fact,
        version=fact.version,
        customer=fact.customer,
        channel=channel,
        defaults={
            "job": fact.job,
            "to": to,
            "subject": fact.subject,
            "body": fact.body,
            "due_at": fact.due_at,
        },
    )
    return notice


def drop(reason: str, job: Job, *, keep: set[str]) -> int:
    """Drop waiting messages about a job whose facts are no longer so; return how many."""
    stale = Notice.objects.filter(
        reason=reason, job=job, state=Notice.State.WAITING
    ).exclude(fact__in=keep)
    return stale.update(state=Notice.State.DROPPED)


def claim(now: datetime, wall: datetime) -> Iterator[Notice]:
    """Yield due messages, each claimed by this caller alone before it is yielded.

    ``now`` is the outfit's clock, by which a message is due; ``wall`` the machine's, by which a claim ages.
    """
    free = Q(state=Notice.State.WAITING) | Q(
        state=Notice.State.CLAIMED, claimed_at__lt=wall - _LEASE
    )
    for pk in list(
        Notice.objects.filter(free, due_at__lte=now).values_list("pk", flat=True)
    ):
        taken = Notice.objects.filter(free, pk=pk).update(
            state=Notice.State.CLAIMED, claimed_at=wall, attempts=F("attempts") + 1
        )
        if taken:
            yield Notice.objects.select_related("customer", "job").get(pk=pk)


def settle(notice: Notice, state: str, said: str, now: datetime) -> None:
    """Store what became of a claimed message."""
    Notice.objects.filter(pk=notice.pk, state=Notice.State.CLAIMED).update(
        state=state, said=said[:200], settled_at=now
    )


def release(notice: Notice, said: str) -> None:
    """Put a claimed message back: for certain nothing of it went out, so it waits for the next turn."""
    Notice.objects.filter(pk=notice.pk, state=Notice.State.CLAIMED).update(
        state=Notice.State.WAITING, claimed_at=None, said=said[:200]
    )
