"""A picture as it was sent, made one to keep: upright, no larger than a page shows, without what the phone wrote into it."""

import warnings
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

from dispatch.actions.errors import Refused

MOST_BYTES = 16 * 1024 * 1024
# Wide enough to find a chip by, and some 300 kB on a phone with one bar.
_SIDE_PX = 1600
_QUALITY = 82
_MOST_PIXELS = 80_000_000
_SORTS = ("JPEG", "PNG", "WEBP")
# What a decoder says of a file that is broken, each in its own way.
_BROKEN = (OSError, SyntaxError, ValueError, EOFError, Image.DecompressionBombError)


def jpeg(sent: bytes) -> bytes:
    """The picture as a JPEG without notes on camera, time or place, turned as it was held.

    Raises:
        Refused: it is no JPEG, PNG or WebP, too large, or broken.
    """
    if len(sent) > MOST_BYTES:
        raise Refused(
            f"A photo has more than {MOST_BYTES // 1024**2} MB. Send a smaller one."
        )
    try:
        with warnings.catch_warnings():
            # Its own limit is ours, told below.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            return _written(_opened(sent))
    except _BROKEN as error:
        raise Refused("That photo is broken. Take it again.") from error


def _opened(sent: bytes) -> Image.Image:
    try:
        found = Image.open(BytesIO(sent), formats=_SORTS)
    except UnidentifiedImageError as error:
        raise Refused("That is no photo: send a JPEG, PNG or WebP.") from error
    if found.width * found.height > _MOST_PIXELS:
        raise Refused(
            f"A photo has {found.width * found.height // 1_000_000} million points. Send a smaller one."
        )
    return found


def _written(picture: Image.Image) -> bytes:
    picture.draft("RGB", (_SIDE_PX, _SIDE_PX))  # a JPEG is read no finer than needed
    upright = ImageOps.exif_transpose(picture)
    upright.thumbnail((_SIDE_PX, _SIDE_PX))
    out = BytesIO()
    _opaque(upright).save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue()


def _opaque(picture: Image.Image) -> Image.Image:
    """The same on white where one could see through it, and with no notes to save along."""
    layer = picture.convert("RGBA")
    ground = Image.new("RGB", layer.size, "white")
    ground.paste(layer, mask=layer)
    return ground
