"""Words on the drawing are broken between words, never through one."""

from dataclasses import replace

import pytest

from dispatch.actions import show_board
from dispatch.web.owner import drawing
from dispatch.web.owner.draw_beneath import whole_words
from tests.actions import plans


@pytest.mark.parametrize(
    ("letters", "said"),
    [
        (30, "Spindle Cove Boatyard"),
        (20, "Spindle Cove"),
        (7, "Spindle"),
        (6, ""),
        (-3, ""),
    ],
)
def test_a_name_keeps_the_whole_words_that_fit(letters, said):
    assert whole_words("Spindle Cove Boatyard", letters) == said


def test_no_comma_is_left_at_the_end():
    assert whole_words("Shop, Pell Harbor", 6) == "Shop"


@pytest.mark.django_db
def test_a_long_kind_of_work_is_told_whole_on_two_lines():
    plans.coat(plans.outfit())
    board = show_board.board(plans.draft([]))
    place = board.places[0]
    row = replace(place.boats[0], kind="Oxidation removal and wax")
    long = replace(board, places=(replace(place, boats=(row,)),))
    drawn = drawing.whole(long).marks
    assert "· Oxidation removal</text>" in drawn
    assert ">and wax</text>" in drawn
    assert "…" not in drawn
