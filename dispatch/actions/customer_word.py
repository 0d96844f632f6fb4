"""What a customer answers on the page of their boat, by the word in their link; who is to be called is put down."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import QuerySet

from dispatch.actions import calling, clock, history
from dispatch.actions.errors import Refused
from dispatch.records.models import HistoryEntry, Job

VERB = "customer-answer"
MOST_WORDS = 300
_MOST_A_DAY = 12
_OPEN = {Job.State.ASKED, Job.State.AGREED, Job.State.IN_HAND}


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One thing a customer may answer: on its button, and as it is told; ``calls`` where they are to be called."""

    button: str
    told: str
    calls: bool = False


ANSWERS: Mapping[str, Answer] = {
    "there": Answer(button="I'll be there", told="will be there"),
    "open": Answer(button="The gate is open", told="the gate is open"),
    "call": Answer(button="Please call me", told="wants to be called", calls=True),
    "not-then": Answer(
        button="That day won't do", told="that day will not do", calls=True
    ),
}


def may_answer(job: Job) -> bool:
    """Whether anything may still be answered about a job."""
    return job.state in _OPEN


@transaction.atomic
def give(job: Job, what: str, words: str = "") -> None:
    """Keep what a customer answered; the owner sees it among the latest changes, and whom to call under Messages.

    Raises:
        Refused: it is none of the answers, too long, one too many today, or the job is over.
    """
    answer, said = ANSWERS.get(what), " ".join(words.split())
    if answer is None:
        raise Refused("Choose one of the answers.")
    if len(said) > MOST_WORDS:
        raise Refused(f"Keep it under {MOST_WORDS} characters, or ask to be called.")
    if not may_answer(job):
        raise Refused("This job is over. Call us, please.")
    if _rows(job).filter(at__gt=clock.now() - timedelta(days=1)).count() >= _MOST_A_DAY:
        raise Refused("We have your answers of today. Call us, please.")
    sentence = _sentence(job, answer, said)
    history.write(
        VERB, f"job {job.key}", sentence, actor=job.boat.customer.name, why=what
    )
    if answer.calls:
        # Her card has the name, the number and the boat already.
        told = _told(answer, said)
        calling.ask(job, f"{told[0].upper()}{told[1:]}", actor=job.boat.customer.name)


def last(job: Job) -> str:
    """What a customer answered last of a job, with its time by the place's clock; empty where nothing was."""
    row = _rows(job).order_by("-at", "-pk").first()
    if row is None:
        return ""
    at = row.at.astimezone(ZoneInfo(job.boat.place.time_zone))
    answer, told = ANSWERS.get(row.why), row.sentence.partition(": ")[2]
    # As their own button says it, not as the owner reads it.
    own = told.replace(f"{answer.told}.", f"{answer.button}.", 1) if answer else told
    return f"You told us {at:%a} {at.day} {at:%b}, {at:%H:%M}: {own}"


def _rows(job: Job) -> QuerySet[HistoryEntry]:
    return HistoryEntry.objects.filter(verb=VERB, subject=f"job {job.key}")


def _sentence(job: Job, answer: Answer, said: str) -> str:
    return f"{job.boat.customer.name}, of {job.boat.name}: {_told(answer, said)}"


def _told(answer: Answer, said: str) -> str:
    more = f' "{said}"' if said else ""
    return f"{answer.told}.{more}"
