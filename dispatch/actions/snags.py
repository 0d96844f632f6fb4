"""What the crew tells the owner of a boat: in words, with photos, from where she lies; and that it was dealt with."""

from collections.abc import Sequence

from django.db import transaction

from dispatch.actions import access, board_told_snags, history, photos, reporting
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, HistoryEntry, Job, Person, Photo, Stage

MOST_WORDS = 500
_MOST_AT_ONCE = 10


@transaction.atomic
def tell(
    stage: Stage, person: Person, words: str, sent: Sequence[bytes]
) -> list[Photo]:
    """Keep what somebody found on a boat, words, photos or both; the owner sees it among the latest changes.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: there is nothing in it, a photo will not do, or the stage is in no posted week.
    """
    by = reporting.reporter(stage, person)
    said = " ".join(words.split())
    if not said and not sent:
        raise Refused("Write what is wrong, or take a photo.")
    if len(said) > MOST_WORDS:
        raise Refused(f"Keep it under {MOST_WORDS} characters; the rest can be said.")
    if len(sent) > _MOST_AT_ONCE:
        raise Refused(f"Send at most {_MOST_AT_ONCE} photos at once.")
    boat = stage.job.boat
    kept = photos.keep(boat, sent, words=f"{stage.name}: {said or person.name}")
    history.write(
        board_told_snags.TOLD,
        f"job {stage.job.key}",
        f"{boat.name}, {stage.name}: {said or 'photos'}{_count(kept)}.",
        by=by,
        actor=person.name,
    )
    return kept


@transaction.atomic
def settle(job: Job, *, by: Account) -> str:
    """Note that what the crew told of a boat so far is dealt with: the board shows it no more. Return it as a sentence.

    Raises:
        Stranger: the account is not the owner's.
        Refused: nothing was told, or it was dealt with already.
    """
    access.owner(by)
    subject = f"job {job.key}"
    verbs = (board_told_snags.TOLD, board_told_snags.SETTLED)
    last = HistoryEntry.objects.filter(subject=subject, verb__in=verbs).first()
    if last is None or last.verb == board_told_snags.SETTLED:
        raise Refused(
            f"Nothing that was told of {job.boat.name} is open. Nothing was changed."
        )
    sentence = f"{job.boat.name}: dealt with what was told of her."
    history.write(board_told_snags.SETTLED, subject, sentence, by=by)
    return sentence


def _count(kept: Sequence[Photo]) -> str:
    if not kept:
        return ""
    return f" ({len(kept)} photo{'s' if len(kept) > 1 else ''})"
