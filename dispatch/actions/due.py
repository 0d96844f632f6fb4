"""Slow work that an action leaves behind: put it down, claim it, settle it."""

from collections.abc import Collection, Iterator
from datetime import datetime, timedelta

from django.conf import settings
from django.db import IntegrityError, connection, transaction
from django.db.models import F, Q
from django.utils import timezone
from django.utils.module_loading import import_string

from dispatch.records.models import DueWork

# A claim that is not settled by then belongs to a worker that died.
_LEASE = timedelta(minutes=4)
_MOST_ATTEMPTS = 3


def put(verb: str, key: str, *, due_at: datetime | None = None) -> None:
    """Ask for slow work once: while the same is waiting, nothing is added.

    Work is due by the machine's clock, not the demo's: it is about the machine. Once the caller's
    transaction is committed, a worker is told, so that nobody waits for the clock's next sweep.
    """
    try:
        with transaction.atomic():
            DueWork.objects.create(verb=verb, key=key, due_at=due_at or timezone.now())
    except IntegrityError:
        return
    if due_at is None or due_at <= timezone.now():
        _nudge_once()


def claim(verbs: Collection[str] | None = None) -> Iterator[DueWork]:
    """Yield due rows, of some verbs or of all, each claimed by this worker alone before it is yielded."""
    while (row := _next(verbs)) is not None:
        free = Q(claimed_at__isnull=True) | Q(claimed_at__lt=timezone.now() - _LEASE)
        mine = DueWork.objects.filter(free, pk=row.pk, done_at__isnull=True)
        if mine.update(claimed_at=timezone.now(), attempts=F("attempts") + 1):
            row.refresh_from_db()
            yield row


def settle(row: DueWork, fault: str = "") -> None:
    """Close a claimed row; with a fault it comes back until its attempts are used up."""
    again = bool(fault) and row.attempts < _MOST_ATTEMPTS
    DueWork.objects.filter(pk=row.pk).update(
        done_at=None if again else timezone.now(),
        claimed_at=row.claimed_at,
        fault=fault,
    )


def _nudge_once() -> None:
    """Have a worker told after the commit, once however much work it left; trouble there is logged, not raised."""
    if all(left[1] is not _nudge for left in connection.run_on_commit):
        transaction.on_commit(_nudge, robust=True)


def _nudge() -> None:
    """Tell a worker in the way the settings name; this room knows none."""
    import_string(settings.AFTER_WORK_IS_LEFT)()


def _next(verbs: Collection[str] | None) -> DueWork | None:
    now = timezone.now()
    free = Q(claimed_at__isnull=True) | Q(claimed_at__lt=now - _LEASE)
    if verbs is not None:
        free &= Q(verb__in=verbs)
    return (
        DueWork.objects.filter(free, done_at__isnull=True, due_at__lte=now)
        .order_by("due_at", "id")
        .first()
    )
