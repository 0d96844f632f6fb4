"""The whole board as one drawing, and each boat as a small one of its own for a phone."""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from django.urls import reverse
from django.utils.safestring import SafeString

from dispatch.actions.board import Board, BoatRow
from dispatch.trade.words import Words
from dispatch.web.owner import (
    draw_beneath,
    draw_hull,
    draw_sky,
    draw_strip,
    fitting,
    scale,
    svg,
)
from dispatch.web.owner.scale import Scale

WIDTH, LABELS, RIGHT = 1080.0, 216.0, 58.0
_SKY_TOP, _DAYS_TOP = 6.0, 92.0
HEAD = _DAYS_TOP + 26  # the sky and the days' names, above the boats
PLACE, ROW = 32.0, 54.0
BENEATH = 8.0  # air between the boats and the lines beneath them
_DETAIL = 26
_LIFT = 6.0  # of a name with two lines beneath it, so that they stand off the row below
_NAME_EM, _AIR = 13.5, 6.0
SKY_PLACE = (LABELS - 8, 11.0)  # room for whose sky it is, and the size of its letters
PHONE_WIDTH = 340.0
_GROUND = "phone-week"  # what every boat's small drawing stands on, once on the page
_PHONE_TOP, PHONE_HEIGHT = 26.0, 64.0
_PHONE_LIMIT = 62.0  # room at the right for the gust limit with its unit
_SHORT_OF = "Left out: "
SHORT = {
    "no-window": "the sky leaves no hours",
    "no-team": "nobody on duty may do it",
    "no-van": "no van carries what it needs",
    "no-trailer": "no equipment for it",
    "no-supplies": "more than a van carries",
    "out-of-reach": "does not fit in a day",
    "no-room": "no room beside the rest",
    "not-worth": "costs more than leaving it",
    "waits-for": "waits for what is left out",
    "job-blocked": "part of it cannot be done",
    "next-week": "goes on next week",
}


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """Marks and the size of the sheet they stand on."""

    width: float
    height: float
    marks: SafeString


def across(days: Sequence[date], zone: ZoneInfo) -> Scale:
    """The scale of the whole board: where moments stand on its sheet."""
    return scale.of(days, zone, LABELS, WIDTH - LABELS - RIGHT)


def whole(board: Board) -> Drawing:
    """The board for a wide sheet."""
    along = across(board.days, board.zone)
    body, bottom = _rows(board, along, HEAD)
    under = list(draw_beneath.beneath(board, along, bottom + BENEATH))
    height = bottom + 20 + draw_beneath.height(board)
    marks = [
        *_nights(board, along, _SKY_TOP, height),
        draw_sky.ribbon(board, along, _SKY_TOP),
        *_days(board, along, _DAYS_TOP),
        # Over the days that lie beyond the week, which carry no flag.
        svg.words(along.right + 4, _DAYS_TOP, "promised", "tiny"),
        *body,
        svg.line(0, bottom, WIDTH - RIGHT, bottom, "rule"),
        *under,
        *_now(board, along, height),
    ]
    return Drawing(width=WIDTH, height=height, marks=svg.joined(marks))


def sky(board: Board) -> Drawing:
    """The sky ribbon by itself, for a phone."""
    along = scale.of(board.days, board.zone, 2, PHONE_WIDTH - _PHONE_LIMIT)
    marks = [draw_sky.ribbon(board, along, 16), *_names(board, along, 11, dated=False)]
    height = 20 + draw_sky.HEIGHT
    return Drawing(width=PHONE_WIDTH, height=height, marks=svg.joined(marks))


def _names(
    board: Board, along: Scale, y: float, *, dated: bool = True
) -> list[SafeString]:
    """The days' names over a phone's drawing, with their dates where there is room."""
    marks = []
    for day, span in zip(board.days, board.day_spans, strict=True):
        middle = (along.x(span.start) + along.x(span.end)) / 2
        name = f"{day:%a} {day.day}" if dated else f"{day:%a}"
        marks.append(svg.words(middle, y, name, "tiny", "middle"))
    return marks


def shade_moment(board: Board) -> datetime:
    """Now while the week runs; before it begins, noon of its first day."""
    if board.day_spans[0].start <= board.now < board.day_spans[-1].end:
        return board.now
    return datetime.combine(board.days[0], time(12), tzinfo=board.zone)


def ground(board: Board) -> SafeString:
    """The nights and the days' names, for every boat's small drawing to stand on; to be put on the page once."""
    along = phone_scale(board)
    nights = _nights(board, along, 0, PHONE_HEIGHT)
    return svg.group([*nights, *_names(board, along, 11)], id=_GROUND)


def phone_scale(board: Board) -> Scale:
    return scale.of(board.days, board.zone, 2, PHONE_WIDTH - 4)


def phone(board: Board, row: BoatRow, along: Scale) -> Drawing:
    strip = draw_strip.bare(board, row, along, _PHONE_TOP)
    marks = [svg.use(_GROUND), strip, *_now(board, along, PHONE_HEIGHT)]
    return Drawing(width=PHONE_WIDTH, height=PHONE_HEIGHT, marks=svg.joined(marks))


def _rows(board: Board, along: Scale, top: float) -> tuple[list[SafeString], float]:
    marks, y = [], top
    for place in board.places:
        drive = f" · {place.drive_minutes} min" if place.drive_minutes else ""
        marks.append(svg.words(0, y + 20, f"{place.name}{drive}", "place"))
        marks.append(svg.line(0, y + 26, WIDTH - RIGHT, y + 26, "hair"))
        y += PLACE
        for row in place.boats:
            marks += _row(board, row, along, y)
            y += ROW
    return marks, y


def _row(board: Board, row: BoatRow, along: Scale, y: float) -> list[SafeString]:
    words = Words(system=board.units)
    detail = f"{words.distance(row.lie.length_m)} · {row.kind}"
    left, cls = left_out(board, row), "tiny"
    if left and row.segments and not left.startswith(_SHORT_OF):
        detail = left
    elif left and row.segments:
        detail, cls = "part of it is left out", "tiny trouble"
    if any(one.kind == "held" for one in row.segments):
        detail, cls = "off: held for you", "tiny trouble"
    lines = _lines(detail)
    lift = _LIFT if len(lines) > 1 else 0
    marks = [
        draw_hull.pressed(board, row, (22, y + 24), shade_moment(board)),
        svg.link(
            [
                svg.words(
                    52,
                    y + 21 - lift,
                    fitting.fitted(row.boat, LABELS - 52 - _AIR, _NAME_EM),
                    "name",
                )
            ],
            to=reverse("estimate", args=[row.job]),
            title=f"{row.boat}: what she takes, and how she lies",
        ),
        *(
            svg.words(52, y + 36 - lift + 13 * i, line, cls)
            for i, line in enumerate(lines)
        ),
        draw_strip.strip(board, row, along, y + 13),
    ]
    if left and not row.segments:
        marks.append(svg.words(LABELS + 6, y + 27, left, "tiny trouble"))
    return marks


def _lines(detail: str) -> list[str]:
    """What stands under a boat's name, broken between words into the lines there is room for."""
    return textwrap.wrap(
        detail, _DETAIL, max_lines=2, placeholder=" …", break_on_hyphens=False
    )


def left_out(board: Board, row: BoatRow) -> str:
    """Why the job is not finished in the plan, in few words; empty where it is."""
    for left in board.left_out:
        if left.job == row.job and not left.extra:
            said = SHORT.get(left.code, left.code)
            return said if left.goes_on else f"{_SHORT_OF}{said}"
    return ""


def _nights(board: Board, along: Scale, top: float, bottom: float) -> list[SafeString]:
    marks = []
    for span, day in zip(board.day_spans, board.days, strict=True):
        for start, end in (
            (time(0), scale.MORNING),
            (scale.EVENING, time(23, 59, 59)),
        ):
            a, b = (
                along.x(datetime.combine(day, clock, tzinfo=board.zone))
                for clock in (start, end)
            )
            marks.append(svg.rect(a, top, b - a, bottom - top, "night"))
        x = along.x(span.start)
        marks.append(svg.line(x, top, x, bottom, "midnight"))
    return marks


def _days(board: Board, along: Scale, top: float) -> list[SafeString]:
    """The days' names and a tick each three working hours."""
    marks = []
    for day, span in zip(board.days, board.day_spans, strict=True):
        middle = (along.x(span.start) + along.x(span.end)) / 2
        marks.append(svg.words(middle, top, f"{day:%a} {day.day}", "day", "middle"))
        for hour in (6, 9, 12, 15, 18):
            x = along.x(datetime.combine(day, time(hour), tzinfo=board.zone))
            marks.append(
                svg.line(x, top + 7, x, top + (13 if hour == 12 else 11), "tick")
            )
        noon = along.x(datetime.combine(day, time(12), tzinfo=board.zone))
        if day == board.days[0]:
            marks.append(svg.words(noon, top + 24, "noon", "tiny", "middle"))
    return marks


def _now(board: Board, along: Scale, bottom: float) -> list[SafeString]:
    """A thin rope where now is; none while now lies outside the week."""
    if not along.holds(board.now) or board.now <= board.day_spans[0].start:
        return []
    x = along.x(board.now)
    return [svg.group([svg.line(x, 0, x, bottom, "now")], title="Now")]
