"""Write down who changed what, when and why."""

from dispatch.actions import clock
from dispatch.records.models import Account, HistoryEntry


def write(
    verb: str,
    subject: str,
    sentence: str,
    *,
    by: Account | None = None,
    actor: str = "",
    why: str = "",
) -> None:
    """Add one line to the history, in the caller's transaction.

    ``actor`` names who did it where nobody was signed in: sky, planner, keeper.
    """
    HistoryEntry.objects.create(
        at=clock.now(),
        by=by,
        actor=actor or _name(by),
        verb=verb,
        subject=subject,
        sentence=sentence,
        why=why,
    )


def turned(before: str, after: str) -> str:
    """What became of a value, both in words of their own: now 17:00 (was not set)."""
    return f"now {after} (was {before})"


def stands(verb: str, subject: str, sentence: str) -> bool:
    """Whether a line stands in the history already."""
    rows = HistoryEntry.objects.filter(verb=verb, subject=subject)
    return rows.filter(sentence=sentence).exists()


def _name(account: Account | None) -> str:
    if account is None:
        return "keeper"
    return account.person.name if account.person else account.username
