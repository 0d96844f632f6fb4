"""A text as the bytes of one short message or of several joined ones (3GPP TS 23.038 and 23.040)."""

from collections.abc import Iterator, Sequence

GSM, LATIN_1, UCS2 = 0x00, 0x03, 0x08
# TS 23.038, 6.2.1: the default alphabet in order, and what stands behind an escape.
_ALPHABET = (
    "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞ\x1bÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?"
    "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
)
_ESCAPE = "\x1b"
_ESCAPED = {
    "\f": 0x0A,
    "^": 0x14,
    "{": 0x28,
    "}": 0x29,
    "\\": 0x2F,
    "[": 0x3C,
    "~": 0x3D,
    "]": 0x3E,
    "|": 0x40,
    "€": 0x65,
}
_OCTETS = {
    GSM: {
        letter: bytes((place,))
        for place, letter in enumerate(_ALPHABET)
        if letter != _ESCAPE
    }
    | {letter: bytes((0x1B, code)) for letter, code in _ESCAPED.items()}
}
# Units alone and joined: the header of a joined message takes 6 octets of 140.
_ROOM = {GSM: (160, 153), LATIN_1: (140, 134), UCS2: (140, 134)}


def coded(message: str, *, gsm: bool) -> tuple[int, list[bytes]]:
    """The data coding of a text, and each letter as bytes; 16-bit units where an alphabet has not all of them.

    ``gsm`` is whether the centre takes the default alphabet of telephones; else Latin-1 is tried.
    """
    if gsm and all(letter in _OCTETS[GSM] for letter in message):
        return GSM, [_OCTETS[GSM][letter] for letter in message]
    if not gsm and all(ord(letter) < 256 for letter in message):
        return LATIN_1, [letter.encode("latin-1") for letter in message]
    return UCS2, [letter.encode("utf-16-be") for letter in message]


def parts(coding: int, letters: Sequence[bytes], reference: int) -> list[bytes]:
    """The bytes of each message; where there is more than one each begins with a header that joins them."""
    alone, joined = _ROOM[coding]
    if sum(map(len, letters)) <= alone:
        return [b"".join(letters)]
    pieces = list(_filled(letters, joined))
    head = bytes((5, 0, 3, reference % 256, len(pieces)))
    return [
        head + bytes((number,)) + piece for number, piece in enumerate(pieces, start=1)
    ]


def _filled(letters: Sequence[bytes], room: int) -> Iterator[bytes]:
    """Pieces of at most so many bytes, no letter cut in two."""
    piece = b""
    for letter in letters:
        if len(piece) + len(letter) > room:
            yield piece
            piece = b""
        piece += letter
    yield piece
