"""Each boat by herself, for a phone: her small drawing, and her visits in words that fold together."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from zoneinfo import ZoneInfo

from django.utils.safestring import SafeString

from dispatch.actions.board import Board, BoatRow, Segment, SkyMark
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
    """One boat with her own small drawing; ``soon`` comes within a day or is at work, ``rest`` folds under ``visits``."""

    row: BoatRow
    place: str
    drawing: Drawing
    hull: SafeString
    left_out: str
    promised: str
    soon: tuple[Line, ...]
    rest: tuple[Line, ...]
    visits: str
    doubts: str


def blocks(board: Board) -> list[Block]:
    """Each boat by herself, in driving order."""
    return [
        _block(board, place.name, row) for place in board.places for row in place.boats
    ]


def _block(board: Board, place: str, row: BoatRow) -> Block:
    shown = [one for one in row.segments if one.kind != "waiting"]
    soon = [one for one in shown if _soon(board, one)]
    rest = [one for one in shown if not _soon(board, one)]
    return Block(
        row=row,
        place=place,
        drawing=drawing.phone(board, row, drawing.phone_scale(board)),
        hull=draw_hull.hull(row, (24, 24), drawing.shade_moment(board)),
        left_out=drawing.left_out(board, row),
        promised=promise(board, row),
        soon=tuple(_line(one, board.zone) for one in soon),
        rest=tuple(_line(one, board.zone) for one in rest),
        visits=_visits(rest, board.zone, "more " if soon else ""),
        doubts=_doubts([one.sky for one in rest if one.sky in _DOUBT]),
    )


def _soon(board: Board, segment: Segment) -> bool:
    start, end = segment.span.start, segment.span.end
    return start < board.now + _SOON and end > board.now


def _visits(rest: Sequence[Segment], zone: ZoneInfo, more: str) -> str:
    """How many visits are folded, and from when to when."""
    hands = [one.span for one in rest if one.kind in ("hands", "held")]
    if not hands:
        return ""
    whole = Span(min(one.start for one in hands), max(one.end for one in hands))
    many = f"{len(hands)} {more}visit{'' if len(hands) == 1 else 's'}"
    off = sum(one.kind == "held" for one in rest)
    return f"{many}, {between(whole, zone)}{f', {off} off' if off else ''}"


def _doubts(marks: Sequence[SkyMark]) -> str:
    """What the sky says against visits that are folded, and of how many."""
    if "unknown" not in marks:
        return f"the sky forbids {len(marks)}" if marks else ""
    either = "forbids or is not known" if "forbids" in marks else "is not known"
    return f"the sky {either} for {len(marks)}"


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
