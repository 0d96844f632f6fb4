"""Segments of text messages against 3GPP TS 23.038 (alphabets) and TS 23.040 (joined messages).

Published limits: 160 septets or 70 16-bit units alone; a joined message spends 6 octets of 140 on its
header, which leaves 153 septets or 67 units. The extension table costs two septets a character.
"""

import pytest

from dispatch.notices.segments import measure

EURO = "\N{EURO SIGN}"
ZHE = "\N{CYRILLIC SMALL LETTER ZHE}"


@pytest.mark.parametrize(
    ("length", "units"),
    [(160, (160,)), (161, (153, 8)), (306, (153, 153)), (307, (153, 153, 1))],
)
def test_septets_alone_and_joined(length: int, units: tuple[int, ...]) -> None:
    found = measure("a" * length)
    assert found.alphabet == "GSM-7"
    assert found.units == units


@pytest.mark.parametrize(
    ("length", "units"),
    [(70, (70,)), (71, (67, 4)), (134, (67, 67)), (135, (67, 67, 1))],
)
def test_sixteen_bit_units_alone_and_joined(
    length: int, units: tuple[int, ...]
) -> None:
    found = measure(ZHE * length)
    assert found.alphabet == "UCS-2"
    assert found.units == units


def test_a_character_of_the_extension_table_is_two_septets() -> None:
    assert measure("a" * 158 + EURO).units == (160,)
    assert measure("a" * 159 + EURO).count == 2
    marks = measure("^{}\\[~]|" + EURO)
    assert marks.alphabet == "GSM-7"
    assert marks.units == (18,)
    assert measure("\f").units == (2,)


@pytest.mark.parametrize("letter", "èéùìòÇÑüà@£$¥ØøÅåÆæßÉÄÖ§¿¡¤ΔΦΓΛΩΠΨΣΘΞ")
def test_in_the_basic_alphabet(letter: str) -> None:
    assert measure(letter) == measure("a")


@pytest.mark.parametrize(
    "letter", ["á", "ç", "\t", "`", "\N{RIGHT SINGLE QUOTATION MARK}", "°"]
)
def test_not_in_the_alphabet(letter: str) -> None:
    assert measure(f"Crew{letter}s").alphabet == "UCS-2"


def test_a_straight_apostrophe_is_in_the_alphabet() -> None:
    assert measure("Crew's").alphabet == "GSM-7"


def test_the_basic_alphabet_has_127_characters_beside_the_escape() -> None:
    known = [chr(code) for code in range(0x10000) if not 0xD800 <= code < 0xE000]
    single = [letter for letter in known if measure(letter) == measure("a")]
    assert len(single) == 127
