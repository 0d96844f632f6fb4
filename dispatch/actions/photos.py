"""Photos of boats: checked by what they are, kept in files of the data folder, shown to the owner."""

import secrets
from collections.abc import Sequence
from pathlib import Path

from django.conf import settings
from django.db import transaction

from dispatch.actions import access, clock, history, photo_notes
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Boat, Photo

MOST_BYTES = 8 * 1024 * 1024
MOST_A_BOAT = 60
_WORDS_MOST = 120
# How a file of each sort begins.
_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"


@transaction.atomic
def add(
    boat: Boat, pictures: Sequence[bytes], *, words: str, by: Account
) -> list[Photo]:
    """Keep photos of a boat, all or none; the place each was taken at, which phones write into a JPEG, is taken out.

    Raises:
        Stranger: the account is not the owner's.
        Refused: one is no JPEG, PNG or WebP, too large, or one too many.
    """
    access.owner(by)
    if len(words.strip()) > _WORDS_MOST:
        raise Refused(f"Keep what it shows under {_WORDS_MOST} characters.")
    if boat.photos.count() + len(pictures) > MOST_A_BOAT:
        raise Refused(
            f"{boat.name} may have {MOST_A_BOAT} photos. Take some out first."
        )
    checked = [_checked(picture) for picture in pictures]
    kept = [_kept(boat, one, words.strip()) for one in checked]
    if kept:
        told = f"{len(kept)} photos of {boat.name}: {words.strip() or 'without words'}."
        history.write("add-photo", f"boat {boat.key}", told, by=by)
    return kept


def _checked(picture: bytes) -> tuple[Photo.Kind, bytes]:
    """What sort of picture it is, and what of it is kept."""
    if len(picture) > MOST_BYTES:
        raise Refused(
            f"A photo has {len(picture) / 1e6:.1f} MB, more than 8. Send a smaller one."
        )
    kind = _kind(picture)
    return kind, photo_notes.bare(picture) if kind == Photo.Kind.JPEG else picture


def _kept(boat: Boat, checked: tuple[Photo.Kind, bytes], words: str) -> Photo:
    kind, bare = checked
    photo = Photo.objects.create(
        boat=boat,
        file=f"{secrets.token_hex(16)}.{kind}",
        kind=kind,
        size_bytes=len(bare),
        words=words,
        taken_at=clock.now(),
    )
    path = where(photo)
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    path.write_bytes(bare)
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


def _kind(picture: bytes) -> Photo.Kind:
    if picture.startswith(_JPEG):
        return Photo.Kind.JPEG
    if picture.startswith(_PNG):
        return Photo.Kind.PNG
    if picture[:4] == b"RIFF" and picture[8:12] == b"WEBP":
        return Photo.Kind.WEBP
    raise Refused("That is no photo: send a JPEG, PNG or WebP.")
