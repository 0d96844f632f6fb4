"""What becomes of a picture before it is kept."""

from io import BytesIO

import pytest
from PIL import Image

from dispatch.actions import pictures
from dispatch.actions.errors import Refused
from tests.actions import pictures as sent


def kept(picture: bytes) -> Image.Image:
    return Image.open(BytesIO(pictures.jpeg(picture)))


def test_a_phones_photo_is_no_larger_than_a_page_shows():
    assert kept(sent.jpeg(4000, 3000)).size == (1600, 1200)
    assert kept(sent.jpeg(60, 40)).size == (60, 40)


def test_nothing_is_left_of_time_place_and_camera():
    """EXIF 2.32, 4.6.6: the place stands under tag 0x8825."""
    picture = sent.jpeg()
    assert Image.open(BytesIO(picture)).getexif().get_ifd(sent.PLACE)
    assert not kept(picture).getexif()
    assert b"SECRET" in picture
    assert b"SECRET" not in pictures.jpeg(picture)


def test_it_stands_upright_as_it_was_held():
    """EXIF 2.32, 4.6.4: 6 means that the first row is the right side, so it is turned a quarter clockwise."""
    turned = kept(sent.jpeg(60, 40, turn=6))
    assert turned.size == (40, 60)
    top, bottom = (turned.getpixel((20, row)) for row in (10, 50))
    assert top[1] < 90 < bottom[1]  # the red left half lies above now


@pytest.mark.parametrize("picture", [sent.png(), sent.webp()])
def test_other_sorts_become_the_same(picture):
    assert kept(picture).format == "JPEG"


def test_what_one_sees_through_is_on_white():
    assert kept(sent.png()).getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("picture", "said"),
    [
        (b"", "no photo"),
        (b"<svg onload=alert(1)>", "no photo"),
        (sent.jpeg()[:200], "broken"),
        (sent.jpeg()[:-300], "broken"),
        (b"\x00" * (pictures.MOST_BYTES + 1), "more than 16 MB"),
    ],
)
def test_what_is_no_picture_is_refused_in_a_sentence(picture, said):
    with pytest.raises(Refused, match=said):
        pictures.jpeg(picture)


def test_a_small_file_that_swells_is_refused():
    with pytest.raises(Refused, match="100 million points"):
        pictures.jpeg(sent.png(10_000, 10_000))
