"""What a phone writes into a JPEG beside the picture: left out, all but which way up it is."""

from collections.abc import Iterator
from typing import Literal

from dispatch.actions.errors import Refused

_SCAN = 0xDA
# Exif and XMP, the photo editors' own notes, and comments.
_NOTES = frozenset({0xE1, 0xED, 0xFE})
_EXIF, _ORIENTATION = b"Exif\x00\x00", 0x0112


def bare(picture: bytes) -> bytes:
    """A JPEG without its notes on camera, time and place; how it is to be turned stays.

    Raises:
        Refused: its segments cannot be read.
    """
    kept, turn = [], 1
    for marker, begin, end in _segments(picture):
        if marker in _NOTES:
            turn = max(turn, _turn(picture[begin + 4 : end]))
        else:
            kept.append(picture[begin:end])
    return b"".join((picture[:2], _note(turn) if turn > 1 else b"", *kept))


def _segments(picture: bytes) -> Iterator[tuple[int, int, int]]:
    """The segments of a JPEG with their spans; the picture itself is the last (ITU-T T.81, B.1)."""
    at = 2
    while at + 4 <= len(picture) and picture[at] == 0xFF:
        marker = picture[at + 1]
        if marker == _SCAN:
            yield marker, at, len(picture)
            return
        end = at + 2 + int.from_bytes(picture[at + 2 : at + 4], "big")
        if end <= at + 3:
            break
        yield marker, at, end
        at = end
    raise Refused("That photo is broken. Take it again.")


def _turn(note: bytes) -> int:
    """How an Exif note says the picture is to be turned, 1 to 8; 1 where it says nothing (Exif 2.32, 4.6.4)."""
    if not note.startswith(_EXIF) or len(note) < 22:
        return 1
    tiff = note[len(_EXIF) :]
    order: Literal["little", "big"] = "little" if tiff[:2] == b"II" else "big"
    first = int.from_bytes(tiff[4:8], order)
    count = int.from_bytes(tiff[first : first + 2], order)
    for number in range(min(count, 200)):
        row = tiff[first + 2 + 12 * number :][:12]
        if int.from_bytes(row[:2], order) == _ORIENTATION:
            said = int.from_bytes(row[8:10], order)
            return said if 1 <= said <= 8 else 1
    return 1


def _note(turn: int) -> bytes:
    """An Exif segment that says nothing but how to turn the picture."""
    row = _ORIENTATION.to_bytes(2, "big") + b"\x00\x03\x00\x00\x00\x01"
    row += turn.to_bytes(2, "big") + b"\x00\x00"
    tiff = b"MM\x00*\x00\x00\x00\x08" + b"\x00\x01" + row + b"\x00\x00\x00\x00"
    whole = _EXIF + tiff
    return b"\xff\xe1" + (len(whole) + 2).to_bytes(2, "big") + whole
