"""Each boat by herself, for a phone: her small drawing, and her visits in words that fold together."""

from dataclasses import dataclass
from datetime import timedelta
from zoneinfo import ZoneInfo

from django.utils.safestring import SafeString

from dispatch.actions.board import Board, BoatRow, Segment
from dispatch.actions.board_text import promise
from dispatch.actions.board_words import between, names
from dispatch.trade.spans import Span
from dispatch.web.owner import draw_hull, drawing
from dispatch.web.owner.drawing import Drawing

_DOUBT = ("forbids", "unknown")
_SOON = timedelta(days=1)  # what comes within it is unfolded on a phone


@dataclass(frozen=True, kw_only=True)
class Line:
    """One stretch of a strip in words, who is at it, and what the sky says; ``stage`` leads to its Why."""

    when: str
    words: str
    who: str
    sky: str
    doubt: bool
    stage: str


@dataclass(frozen=True, kw_only=True)
class Block:
    """One boat with her own small drawing; ``soon``: something of her comes within a day, or is at work."""

    row: BoatRow
    place: str
    drawing: Drawing
    hull: SafeString
    left_out: str
    promised: str
    lines: tuple[Line, ...]
    visits: str
    doubts: int
    soon: bool


def blocks(board: Board) -> list[Block]:
    """Each boat by herself, in driving order."""
    along = drawing.phone_scale(board)
    moment = drawing.shade_moment(board)
    return [
        Block(
            row=row,
            place=place.name,
            drawing=drawing.phone(board, row, along),
            hull=draw_hull.hull(row, (24, 24), moment),
            left_out=drawing.left_out(board, row),
            promised=promise(board, row),
            lines=tuple(
                _line(segment, board.zone)
                for segment in row.segments
                if segment.kind != "waiting"
            ),
            visits=_visits(board, row),
            doubts=sum(one.sky in _DOUBT for one in row.segments),
            soon=any(
                one.span.start < board.now + _SOON and one.span.end > board.now
                for one in row.segments
                if one.kind != "waiting"
            ),
        )
        for place in board.places
        for row in place.boats
    ]


def _visits(board: Board, row: BoatRow) -> str:
    """How many visits a boat has in the plan, and from when to when."""
    hands = [one.span for one in row.segments if one.kind == "hands"]
    if not hands:
        return ""
    whole = Span(min(one.start for one in hands), max(one.end for one in hands))
    many = f"{len(hands)} visits" if len(hands) > 1 else "1 visit"
    return f"{many}, {between(whole, board.zone)}"


def _line(segment: Segment, zone: ZoneInfo) -> Line:
    """A stretch's words, cut before its people and before what the sky says."""
    said, _, sky_says = segment.words.partition("; the sky ")
    people = names(segment.people)
    words, _, rest = said.partition(f", {people}") if people else (said, "", "")
    return Line(
        when=between(segment.span, zone),
        words=words,
        who=people + rest,
        sky=f"The sky {sky_says.rstrip('.')}." if sky_says else "",
        doubt=segment.sky in _DOUBT,
        stage=segment.stage,
    )
