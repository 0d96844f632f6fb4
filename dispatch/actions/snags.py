"""What the crew tells the owner of a boat: in words, with photos, from where she lies."""

from collections.abc import Sequence

from django.db import transaction

from dispatch.actions import history, photos, reporting
from dispatch.actions.errors import Refused
from dispatch.records.models import Person, Photo, Stage

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
        "tell-snag",
        f"job {stage.job.key}",
        f"{boat.name}, {stage.name}: {said or 'photos'}{_count(kept)}.",
        by=by,
        actor=person.name,
    )
    return kept


def _count(kept: Sequence[Photo]) -> str:
    if not kept:
        return ""
    return f" ({len(kept)} photo{'s' if len(kept) > 1 else ''})"
