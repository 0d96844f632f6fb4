"""Pictures as phones send them, made here so that each says what it is."""

from io import BytesIO

from PIL import Image

# EXIF 2.32 (CIPA DC-008): tag numbers of orientation, the maker and the place's directory.
ORIENTATION, MAKER, PLACE = 0x0112, 0x010F, 0x8825
SOUTH_WEST = {1: "S", 2: (44.0, 5.0, 36.0), 3: "W", 4: (69.0, 7.0, 26.0)}


def jpeg(width: int = 60, height: int = 40, *, turn: int = 1) -> bytes:
    """A JPEG, its left half red, with a maker, a place and how it is to be turned."""
    picture = Image.new("RGB", (width, height), "white")
    picture.paste((200, 0, 0), (0, 0, width // 2, height))
    notes = Image.Exif()
    notes[ORIENTATION], notes[MAKER] = turn, "SECRET-MAKER"
    notes.get_ifd(PLACE).update(SOUTH_WEST)
    return _written(picture, "JPEG", exif=notes)


def png(width: int = 60, height: int = 40) -> bytes:
    """A PNG one sees through."""
    return _written(Image.new("RGBA", (width, height), (0, 0, 0, 0)), "PNG")


def webp() -> bytes:
    """A small WebP."""
    return _written(Image.new("RGB", (60, 40), "navy"), "WEBP")


def _written(picture: Image.Image, sort: str, **options: object) -> bytes:
    out = BytesIO()
    picture.save(out, sort, **options)
    return out.getvalue()
