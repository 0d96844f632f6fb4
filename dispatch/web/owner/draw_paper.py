"""The board cut into sheets for paper, between its rows, each beneath the sky and the days' names."""

from collections.abc import Iterator

from dispatch.actions.board import Board
from dispatch.web.owner import draw_beneath, drawing

# As high as a landscape sheet is when the board is as wide as it: Letter and A4, their margins off.
_SHEET = 725.0
_NEXT = 3.0  # the initials of the next boat reach up so far
_FOOT = 6.0  # of the letters of a line beneath the boats


def sheets(board: Board) -> tuple[tuple[float, float], ...]:
    """Where each sheet begins on the drawing of the whole board, and how high its part is."""
    top, found = drawing.HEAD, []
    ends = [top, *_ends(board)]
    while top < ends[-1]:
        reach = top + _SHEET - drawing.HEAD
        cut = max((y for y in ends if top < y <= reach), default=reach)
        found.append((top, cut - top))
        top = cut
    return tuple(found)


def _ends(board: Board) -> Iterator[float]:
    """Beneath what the drawing may be cut: each boat, and each line of vans, equipment, people and stores."""
    y = drawing.HEAD
    for place in board.places:
        y += drawing.PLACE
        for _ in place.boats:
            y += drawing.ROW
            yield y - _NEXT
    y += drawing.BENEATH
    for rows in draw_beneath.groups(board):
        for _ in rows:
            y += draw_beneath.ROW
            yield y + _FOOT
        y += draw_beneath.APART
