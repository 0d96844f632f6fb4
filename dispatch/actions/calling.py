"""Customers to be called by hand: what nobody may be told by a message, until somebody has called."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from dispatch.actions import access, history
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, HistoryEntry, Job

VERB, CALLED = "call-by-hand", "called-by-hand"


@dataclass(frozen=True, kw_only=True)
class Card:
    """One job whose customer is to be called, since when, and why in sentences, the newest first."""

    job: Job
    at: datetime
    why: tuple[str, ...]


def ask(
    job: Job, said: str, then: str = "", *, actor: str = "sky", again: bool = True
) -> None:
    """Put down once that a job's customer is to be called, in the caller's transaction; ``{customer}`` in ``then`` is the name.

    ``again``: also where they were called about the very same before.
    """
    sentence = f"{said} {then.format(customer=job.boat.customer.name)}".strip()
    rows = HistoryEntry.objects.filter(verb__in=(VERB, CALLED), subject=_subject(job))
    asked = list(rows.order_by("-pk"))
    still = _since_called(asked) if again else asked
    if sentence not in {row.sentence for row in still}:
        history.write(VERB, _subject(job), sentence, actor=actor)


def cards() -> Iterator[Card]:
    """Every job whose customer is to be called and was not since, the newest first."""
    rows: dict[str, list[HistoryEntry]] = {}
    for row in HistoryEntry.objects.filter(verb__in=(VERB, CALLED)).order_by("-pk"):
        rows.setdefault(row.subject, []).append(row)
    for subject, found in rows.items():
        still = list(_since_called(found))
        job = _job(subject) if still else None
        if job is not None:
            why = tuple(dict.fromkeys(row.sentence for row in still))
            yield Card(job=job, at=still[0].at, why=why)


@transaction.atomic
def called(key: str, *, by: Account) -> Job:
    """Put down that a job's customer was called.

    Raises:
        Stranger: the account is not the owner's.
        Refused: there is nothing to call about.
    """
    access.owner(by)
    card = next((one for one in cards() if one.job.key == key), None)
    if card is None:
        raise Refused(
            "Nobody is to be called about this any more. Load the page again."
        )
    customer = card.job.boat.customer.name
    history.write(CALLED, _subject(card.job), f"{customer} was called.", by=by)
    return card.job


def _since_called(found: list[HistoryEntry]) -> Iterator[HistoryEntry]:
    for row in found:
        if row.verb == CALLED:
            return
        yield row


def _subject(job: Job) -> str:
    return f"job {job.key}"


def _job(subject: str) -> Job | None:
    key = subject.removeprefix("job ")
    return Job.objects.select_related("boat__customer").filter(key=key).first()
