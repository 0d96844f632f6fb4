"""Slow work that an action leaves behind: put it down, claim it, settle it."""

from collections.abc import Collection, Iterator
from datetime import datetime, timedelta

from django.conf import settings
from django.db import IntegrityError, connection, transaction
from django.db.models import Exists, F, OuterRef, Q, QuerySet
from django.db.models.functions import Least
from django.utils import timezone
from django.utils.module_loading import import_string

from dispatch.records.models import DueWork

# A claim that is not settled by then belongs to a worker that died.
_LEASE = timedelta(minutes=4)
_MOST_ATTEMPTS = 3


def put(verb: str, key: str, *, due_at: datetime | None = None) -> None:
    """Ask for slow work once: the same that is waiting is waited for; the same that is under way is done again after it.

    Work is due by the machine's clock, not the demo's: it is about the machine. Once the caller's
    transaction is committed, a worker is told, so that nobody waits for the clock's next sweep.
    """
    at = due_at or timezone.now()
    while not (_added(verb, key, at) or _waits_already(verb, key, at)):
        pass  # It was claimed between the two looks: by what it knew before this.
    if at <= timezone.now():
        _nudge_once()


def claim(verbs: Collection[str] | None = None) -> Iterator[DueWork]:
    """Yield due rows, of some verbs or of all, each claimed by this worker alone before it is yielded."""
    while (row := _next(verbs)) is not None:
        now = timezone.now()
        mine = _free(now).filter(pk=row.pk)
        if mine.update(claimed_at=now, attempts=F("attempts") + 1, fault=""):
            row.refresh_from_db()
            yield row


def is_open(verb: str) -> bool:
    """Whether work of a verb is due by now and not done yet, in somebody's hands or in nobody's."""
    now = timezone.now()
    rows = DueWork.objects.filter(verb=verb, done_at__isnull=True, due_at__lte=now)
    return rows.exists()


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


def _added(verb: str, key: str, at: datetime) -> bool:
    try:
        with transaction.atomic():
            DueWork.objects.create(verb=verb, key=key, due_at=at)
    except IntegrityError:
        return False
    return True


def _waits_already(verb: str, key: str, at: datetime) -> bool:
    """Whether the same waits to be claimed; it is due by then, and waits at least until the caller's transaction ends."""
    waiting = DueWork.objects.filter(
        verb=verb, key=key, done_at__isnull=True, claimed_at__isnull=True
    )
    return waiting.update(due_at=Least(F("due_at"), at)) > 0


def _free(now: datetime) -> QuerySet[DueWork]:
    """Return what may be claimed: due, in nobody's hands, and the same not under way either, which would end with the older answer."""
    undone, lost = DueWork.objects.filter(done_at__isnull=True), now - _LEASE
    same = undone.filter(
        verb=OuterRef("verb"), key=OuterRef("key"), claimed_at__gte=lost, fault=""
    )
    free = Q(claimed_at__isnull=True) | Q(claimed_at__lt=lost)
    return undone.filter(free, ~Exists(same), due_at__lte=now)


def _next(verbs: Collection[str] | None) -> DueWork | None:
    found = _free(timezone.now())
    if verbs is not None:
        found = found.filter(verb__in=verbs)
    return found.order_by("due_at", "id").first()
