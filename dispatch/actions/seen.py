"""What changed since an owner last looked, by whom; looking is said, not guessed."""

from dataclasses import dataclass
from datetime import datetime

from dispatch.actions import access, clock
from dispatch.records.models import Account, HistoryEntry

_MOST = 30
_AT_FIRST = 6


@dataclass(frozen=True, kw_only=True)
class News:
    """History lines, the newest first, since a moment (None: nobody has said yet that they looked), and how many more."""

    since: datetime | None
    lines: tuple[HistoryEntry, ...]
    more: int


def of(account: Account) -> News:
    """What the history tells since an owner last said that they had seen it."""
    since = account.looked_at
    rows = HistoryEntry.objects.select_related("by")
    if since is None:
        return News(since=None, lines=tuple(rows[:_AT_FIRST]), more=0)
    fresh = rows.filter(at__gt=since)
    return News(
        since=since,
        lines=tuple(fresh[:_MOST]),
        more=max(0, fresh.count() - _MOST),
    )


def look(up_to: datetime | None = None, *, by: Account) -> None:
    """Store that an owner has seen what changed up to a moment, the newest they were shown; up to now without one.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    now = clock.now()
    at = now if up_to is None else min(up_to, now)
    Account.objects.filter(pk=by.pk).update(looked_at=at)
