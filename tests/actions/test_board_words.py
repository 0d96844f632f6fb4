"""How a board writes moments, lengths and the first sentence of a longer text."""

import pytest

from dispatch.actions.board_words import opening


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("St. Elmo is late. A day more mends it.", "St. Elmo is late"),
        ("Note of St. Elmo now Ring.", "Note of St. Elmo now Ring"),
        (
            "Two boats wait: St. Elmo, Tern. Both are dry.",
            "Two boats wait: St. Elmo, Tern",
        ),
        ("Nothing ends here", "Nothing ends here"),
    ],
)
def test_a_full_stop_in_a_name_ends_no_sentence(text, says):
    assert opening(text, ["St. Elmo", "Tern"]) == says
