"""Photos of boats: kept in files of the data folder, shown to the owner."""

import secrets
from collections.abc import Sequence
from pathlib import Path

from django.conf import settings
from django.db import transaction

from dispatch.actions import access, clock, history, pictures
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat, Photo

MOST_A_BOAT = 60
_WORDS_MOST = 120


@transaction.atomic
def add(boat: Boat, sent: Sequence[bytes], *, words: str, by: Account) -> list[Photo]:
    """Keep photos of a boat, all or none, as ``pictures`` makes them.

    Raises:
        Stranger: the account is not the owner's.
        Refused: one is no picture, too large, or one too many.
    """
    access.owner(by)
    if len(words.strip()) > _WORDS_MOST:
        raise Refused(f"Keep what it shows under {_WORDS_MOST} characters.")
    kept = keep(boat, sent, words=words.strip())
    if kept:
        many = "1 photo" if len(kept) == 1 else f"{len(kept)} photos"
        told = f"{many} of {boat.name}: {words.strip() or 'without words'}."
        history.write("add-photo", f"boat {boat.key}", told, by=by)
    return kept


def keep(boat: Boat, sent: Sequence[bytes], *, words: str) -> list[Photo]:
    """Keep photos in the caller's transaction, which tells in the history whose they are.

    Raises:
        Refused: one is no picture, too large, or one too many.
    """
    if boat.photos.count() + len(sent) > MOST_A_BOAT:
        raise Refused(
            f"{boat.name} may have {MOST_A_BOAT} photos. Take some out first."
        )
    made = [pictures.jpeg(one) for one in sent]
    return [_kept(boat, one, words[:_WORDS_MOST]) for one in made]


def _kept(boat: Boat, picture: bytes, words: str) -> Photo:
    kind = Photo.Kind.JPEG
    photo = Photo.objects.create(
        boat=boat,
        file=f"{secrets.token_hex(16)}.{kind}",
        kind=kind,
        size_bytes=len(picture),
        words=words,
        taken_at=clock.now(),
    )
    path = where(photo)
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    path.write_bytes(picture)
    return photo


@transaction.atomic
def remove(photo: Photo, *, by: Account) -> None:
    """Take a photo out, its file once that is certain.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    path = where(photo)
    told = f"Took out a photo of {photo.boat.name}: {photo.words or 'without words'}."
    history.write("remove-photo", f"boat {photo.boat.key}", told, by=by)
    photo.delete()
    transaction.on_commit(lambda: path.unlink(missing_ok=True))


def where(photo: Photo) -> Path:
    """The file a photo lies in."""
    return Path(settings.DATA_DIR) / "photos" / photo.file
