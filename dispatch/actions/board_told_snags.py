"""Snags that the crew told from the road: what they found on a boat, who told it and when, until the owner has dealt with it."""

from collections.abc import Iterator
from datetime import timedelta
from itertools import groupby

from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.records.models import HistoryEntry, Job

TOLD, SETTLED = "tell-snag", "settle-snag"
_SHOWN_FOR = timedelta(days=14)


def of(reading: Reading) -> Iterator[Snag]:
    """One snag a boat that something was told of, the latest in full."""
    jobs = {f"job {job.key}": job for job in reading.jobs}
    rows = HistoryEntry.objects.filter(
        verb__in=(TOLD, SETTLED),
        subject__in=jobs,
        at__gte=reading.now - _SHOWN_FOR,
    )
    for subject, lines in groupby(rows.order_by("subject", "-id"), _subject):
        told = list(_open(list(lines)))
        if told:
            yield _snag(reading, jobs[subject], told)


def _subject(row: HistoryEntry) -> str:
    return row.subject


def _open(lines: list[HistoryEntry]) -> Iterator[HistoryEntry]:
    """What was told since it was last dealt with, the latest first."""
    for row in lines:
        if row.verb == SETTLED:
            return
        yield row


def _snag(reading: Reading, job: Job, told: list[HistoryEntry]) -> Snag:
    last, boat = told[0], job.boat.name
    words = last.sentence.removeprefix(f"{boat}, ").rstrip(".")
    more = f" And {len(told) - 1} more, in the history." if len(told) > 1 else ""
    return Snag(
        weight=97,
        subject=boat,
        sentence=f"{last.actor} told {when(last.at, reading.line.zone)}: {words}.{more}",
        mend="Ring them; put right on her card or her job what is otherwise than planned, then say it is dealt with: free.",
        does="told",
        about=f"told:{job.key}",
    )
