"""The board cut into sheets for paper, between its rows, each beneath the sky and the days' names."""

from collections.abc import Iterator
from dataclasses import dataclass

from dispatch.actions.board import Board
from dispatch.web.owner import draw_beneath, drawing, fitting

# As high as a landscape sheet is when the board is as wide as it: Letter and A4, their margins off.
_SHEET = 725.0
_NEXT = 3.0  # the initials of the next boat reach up so far
_FOOT = 6.0  # of the letters of a line beneath the boats
_ON = ", goes on"
_BEFORE_NOON = 30.0
_NAME_EM = 12.5  # of a place's letters, capitals and a little apart


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A part of the drawing of the whole board, from where it begins, and the place that goes on there, if one does."""

    top: float
    height: float
    place: str = ""


def sheets(board: Board) -> tuple[Sheet, ...]:
    """The sheets of a board, the first beneath its head."""
    top, found = drawing.HEAD, []
    ends, within = [top, *_ends(board)], dict(_within(board))
    while top < ends[-1]:
        reach = top + _SHEET - drawing.HEAD
        cut = max((y for y in ends if top < y <= reach), default=reach)
        found.append(Sheet(top=top, height=cut - top, place=within.get(top, "")))
        top = cut
    return tuple(found)


def _within(board: Board) -> Iterator[tuple[float, str]]:
    """Beneath each boat that another of her place follows: the place's name, as there is room for it left of the first noon."""
    room = drawing.LABELS + _BEFORE_NOON - fitting.width(_ON.upper(), _NAME_EM)
    y = drawing.HEAD
    for place in board.places:
        y += drawing.PLACE
        for _ in place.boats[:-1]:
            y += drawing.ROW
            name = fitting.fitted(place.name.upper(), room, _NAME_EM)
            yield y - _NEXT, f"{name}{_ON}"
        y += drawing.ROW if place.boats else 0


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
