"""A hull in plan view at her true heading, the side that lies in shade filled."""

from datetime import datetime

from django.urls import reverse
from django.utils.safestring import SafeString

from dispatch.actions.board import Board, BoatRow
from dispatch.web.owner import svg

# Bow up, in units of a half length: a full outline, and each half of it.
_OUTLINE = "M0 -1C.34 -.62 .43 -.2 .4 .94L-.4 .94C-.43 -.2 -.34 -.62 0 -1Z"
_STARBOARD = "M0 -1C.34 -.62 .43 -.2 .4 .94L0 .94Z"
_PORT = "M0 -1C-.34 -.62 -.43 -.2 -.4 .94L0 .94Z"
# An arrow that goes round: she may be turned or covered.
_TURN = "M-4 1A4.5 4.5 0 1 1 0 5M-6.5 -1.5L-4 1.4L-1.4 -1.4"
_LEAST, _MOST, _LONG_M = 13.0, 21.0, 10.5


def hull(row: BoatRow, at: tuple[float, float], moment: datetime) -> SafeString:
    """The hull centred on a point; where nobody has read the heading, a dashed ring."""
    heading = row.lie.turned_to_deg
    if heading is None:
        heading = row.lie.heading_true_deg
    if heading is None:
        return _unread(row, at)
    half = max(_LEAST, min(_MOST, _MOST * row.lie.length_m / _LONG_M))
    place = (
        f"translate({at[0]:.1f} {at[1]:.1f}) rotate({heading:.0f}) scale({half:.1f})"
    )
    shaded = _shaded(row, moment)
    marks = [
        svg.path(shape, "shaded")
        for side, shape in (("port", _PORT), ("starboard", _STARBOARD))
        if side in shaded
    ]
    marks.append(svg.path(_OUTLINE, "hull"))
    return svg.group(marks, title=says(row, shaded), transform=place)


def pressed(
    board: Board, row: BoatRow, at: tuple[float, float], moment: datetime
) -> SafeString:
    """The hull; where the week may have her done otherwise, it leads to turning and covering her."""
    drawn = hull(row, at, moment)
    if not row.ways or board.plan is None:
        return drawn
    x, y = at
    reach = svg.rect(x - 22, y - 24, 46, 48, "reach")
    arrow = svg.path(_TURN, "turn", transform=f"translate({x + 16:.0f} {y - 16:.0f})")
    return svg.link(
        [reach, drawn, arrow],
        to=reverse("week-ways", args=[board.plan, row.job]),
        title=f"{row.boat}: turn or cover her",
    )


def _unread(row: BoatRow, at: tuple[float, float]) -> SafeString:
    ring = svg.mark("circle", cls="hull unread", cx=at[0], cy=at[1], r=13)
    return svg.group(
        [ring, svg.words(at[0], at[1] + 4.5, "?", "unread-mark", "middle")],
        title=says(row, set()),
    )


def says(row: BoatRow, shaded: set[str]) -> str:
    """How she lies, in words."""
    heading = row.lie.heading_true_deg
    if heading is None:
        return f"{row.boat}: nobody has read her heading"
    turned = row.lie.turned_to_deg
    lies = f"{row.boat} heads {heading:03.0f} true"
    if turned is not None:
        lies += f", turned to {turned:03.0f}"
    return f"{lies}; in shade: {' and '.join(sorted(shaded))}" if shaded else lies


def _shaded(row: BoatRow, moment: datetime) -> set[str]:
    return {
        side
        for side in ("port", "starboard")
        if any(span.holds(moment) for span in row.shade.get(side, ()))
    }
