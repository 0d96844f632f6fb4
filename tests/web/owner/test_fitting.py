"""Words on the drawing are broken between words, never through one."""

from dataclasses import replace

import pytest

from dispatch.actions import show_board
from dispatch.web.owner import draw_beneath, drawing
from dispatch.web.owner.fitting import fitted, whole_words, width
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


def test_a_name_that_fits_is_left_whole():
    assert fitted("Second Wind", 158, 13.5) == "Second Wind"


@pytest.mark.parametrize("room", [40.0, 80.0, 158.0])
@pytest.mark.parametrize("name", ["Rosalind's Oath of the Outer Reach II", "W" * 60])
def test_a_long_name_keeps_its_end_and_never_takes_more_than_its_room(name, room):
    short = fitted(name, room, 13.5)
    assert width(short, 13.5) <= room
    assert "…" in short
    assert short.endswith(name[-1])


def test_where_there_is_no_room_at_all_nothing_is_drawn():
    assert fitted("Second Wind", 0, 13.5) == ""


def test_a_long_name_of_a_van_leaves_room_for_its_seats():
    name = "The old van of the Outer Islands and the Long Reach"
    first, second = draw_beneath.named(name, "5 seats, tows", 20)
    assert "…" in first
    assert "5 seats, tows" in second
    short = first.split(">")[1].split("<")[0]
    assert width(short, 12.5) + width("5 seats, tows", 11) < 206
