"""The outbox: put a message in once, claim it for sending, settle what became of it."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import F, Q, QuerySet

from dispatch.notices.reasons import Reason
from dispatch.records.models import Customer, Job, Notice, Person
from dispatch.trade.spans import Span

# A claim older than this belongs to a worker that died while sending.
_LEASE = timedelta(minutes=5)
_OF_ONE_VISIT = (Reason.ARRIVAL, Reason.MOVED)
_FIRST_WAIT, _LONGEST_WAIT = timedelta(minutes=5), timedelta(hours=1)


@dataclass(frozen=True, kw_only=True)
class Fact:
    """One thing to tell one customer or one person of the crew: what about, and which version of it; ``span`` is the visit it tells of."""

    reason: str
    fact: str
    version: str
    to_whom: Customer | Person
    job: Job
    subject: str
    body: str
    due_at: datetime
    span: Span | None = None

    @property
    def addressee(self) -> dict[str, Customer | Person]:
        """To whom it goes, by the name of the column."""
        name = "person" if isinstance(self.to_whom, Person) else "customer"
        return {name: self.to_whom}


def put(fact: Fact, *, channel: str, to: str) -> Notice:
    """Put a message in the outbox; the same fact by the same channel is put in once.

    An earlier version of the fact that has not gone out is dropped, not sent. A version that comes back
    after another one was told is told again.
    """
    same = Notice.objects.filter(
        reason=fact.reason, fact=fact.fact, channel=channel, **fact.addressee
    )
    last = same.exclude(state=Notice.State.DROPPED).order_by("-pk").first()
    if last is not None and version_of(last) == fact.version:
        return last
    same.filter(state=Notice.State.WAITING).update(state=Notice.State.DROPPED)
    notice, _ = Notice.objects.get_or_create(
        reason=fact.reason,
        fact=fact.fact,
        version=_fresh(fact.version, same),
        channel=channel,
        **fact.addressee,
        defaults={
            "job": fact.job,
            "to": to,
            "subject": fact.subject,
            "body": fact.body,
            "begins_at": fact.span.start if fact.span else None,
            "ends_at": fact.span.end if fact.span else None,
            "due_at": fact.due_at,
        },
    )
    return notice


def version_of(notice: Notice) -> str:
    """The version of the fact that a message tells, whether for the first time or again."""
    version, _, times = notice.version.rpartition(" ")
    return version if version and times.isdigit() else notice.version


def _fresh(version: str, same: QuerySet[Notice]) -> str:
    """A version's name in the outbox: numbered where it has been there before."""
    before = sum(version_of(notice) == version for notice in same)
    return f"{version} {before + 1}" if before else version


def drop(reasons: Collection[str], *, days: Collection[str], keep: set[str]) -> int:
    """Drop waiting messages about visits on some days that are no longer so; return how many."""
    waiting = Notice.objects.filter(reason__in=reasons, state=Notice.State.WAITING)
    stale = [
        pk
        for pk, fact in waiting.values_list("pk", "fact")
        if fact not in keep and fact.rpartition(" ")[2] in days
    ]
    gone = Notice.objects.filter(pk__in=stale, state=Notice.State.WAITING)
    return gone.update(state=Notice.State.DROPPED)


def lost(wall: datetime) -> QuerySet[Notice]:
    """Messages whose worker died with them in hand: they may have gone out, or not."""
    return Notice.objects.filter(
        state=Notice.State.CLAIMED, claimed_at__lt=wall - _LEASE
    )


def telling(notice: Notice) -> int:
    """How often this visit was told this customer by this channel before, or that it moved: 0 the first time."""
    return Notice.objects.filter(
        reason__in=_OF_ONE_VISIT,
        fact=notice.fact,
        customer=notice.customer,
        channel=notice.channel,
        pk__lt=notice.pk,
    ).count()


def open_channels() -> list[str]:
    """The channels of messages that are not settled, by name."""
    still = (Notice.State.WAITING, Notice.State.CLAIMED)
    names = Notice.objects.filter(state__in=still).order_by("channel")
    return list(names.values_list("channel", flat=True).distinct())


def claim(
    now: datetime, wall: datetime, *, channels: Collection[str]
) -> Iterator[Notice]:
    """Yield due messages of some channels, each claimed by this caller alone before it is yielded.

    ``now`` is the outfit's clock, by which a message is due; ``wall`` the machine's, by which a claim ages.
    """
    yield from claim_of(Notice.objects.filter(channel__in=channels), now, wall)


def claim_of(rows: QuerySet[Notice], now: datetime, wall: datetime) -> Iterator[Notice]:
    """The same of some rows."""
    free = Q(state=Notice.State.WAITING) | Q(
        state=Notice.State.CLAIMED, claimed_at__lt=wall - _LEASE
    )
    due = rows.filter(free, due_at__lte=now)
    for pk in list(due.values_list("pk", flat=True)):
        taken = Notice.objects.filter(free, pk=pk).update(
            state=Notice.State.CLAIMED, claimed_at=wall, attempts=F("attempts") + 1
        )
        if taken:
            yield Notice.objects.select_related("customer", "person", "job").get(pk=pk)


def settle(
    notice: Notice, state: str, said: str, now: datetime, *, number: str = ""
) -> None:
    """Store what became of a claimed message, and what the channel calls it."""
    Notice.objects.filter(pk=notice.pk, state=Notice.State.CLAIMED).update(
        state=state, said=said[:200], settled_at=now, number=number
    )


def answered(pk: int, state: str, now: datetime) -> bool:
    """Settle a message whose outcome is unknown by what its receiver says; false where it is not unknown any more."""
    found = Notice.objects.filter(pk=pk, state=Notice.State.UNKNOWN)
    if state == Notice.State.WAITING:
        return bool(found.update(state=state, claimed_at=None, due_at=now))
    return bool(found.update(state=state, settled_at=now, said="The receiver has it."))


def release(notice: Notice, said: str, due_at: datetime) -> None:
    """Put a claimed message back: for certain nothing of it went out, so it waits for a later turn."""
    Notice.objects.filter(pk=notice.pk, state=Notice.State.CLAIMED).update(
        state=Notice.State.WAITING, claimed_at=None, said=said[:200], due_at=due_at
    )


def again_after(attempts: int) -> timedelta:
    """How long a message that was not taken waits: 5 minutes, then twice as long each time, up to an hour."""
    return min(_FIRST_WAIT * (1 << min(attempts - 1, 10)), _LONGEST_WAIT)
