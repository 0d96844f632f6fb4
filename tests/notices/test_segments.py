"""A text is kept short, and no character is cut in two."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dispatch.notices import segments

ANY = st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=400)


@given(ANY)
def test_segments_hold_the_whole_text_and_none_is_overfull(text: str) -> None:
    found = segments.measure(text)
    most = {("GSM-7", True): 160, ("GSM-7", False): 153}
    most |= {("UCS-2", True): 70, ("UCS-2", False): 67}
    assert max(found.units) <= most[found.alphabet, found.count == 1]
    if found.alphabet == "UCS-2":
        assert sum(found.units) == len(text.encode("utf-16-be")) // 2


def test_a_character_of_two_units_is_never_cut() -> None:
    assert segments.measure("a" * 152 + "€" + "a" * 10).units == (152, 12)
    assert segments.measure("ж" * 66 + "\U0001f6a4" + "ж" * 10).units == (66, 12)


def test_typographic_marks_are_written_plainly() -> None:
    fancy = "\N{LEFT DOUBLE QUOTATION MARK}Crew\N{RIGHT SINGLE QUOTATION MARK}s\N{RIGHT DOUBLE QUOTATION MARK} 8\N{EN DASH}9\N{HORIZONTAL ELLIPSIS}"
    assert segments.plain(fancy) == '"Crew\'s" 8-9...'
    assert segments.measure(fancy).alphabet == "UCS-2"
    assert segments.measure(segments.plain(fancy)).alphabet == "GSM-7"


@pytest.mark.parametrize(
    ("lengths", "kept"),
    [((100, 59), 2), ((100, 60), 1), ((170, 5), 1), ((10, 200, 5), 1)],
)
def test_sentences_that_do_not_fit_are_left_out_from_the_end(
    lengths: tuple[int, ...], kept: int
) -> None:
    sentences = ["abcdefghij"[index] * length for index, length in enumerate(lengths)]
    assert segments.fit(sentences, 1) == " ".join(sentences[:kept])
