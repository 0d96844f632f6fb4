"""A boat's strip: one unbroken band with her shade beneath, her notches and her promise."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from django.urls import reverse
from django.utils.safestring import SafeString

from dispatch.actions.board import Board, BoatRow, Film, Segment, SkyMark
from dispatch.actions.board_text import promise
from dispatch.actions.board_words import between, dated
from dispatch.web.owner import draw_initials, svg
from dispatch.web.owner.scale import Scale

BAND = 20.0
_HAIR = 4.0
_CLEAR = 9.0  # marks nearer to one another could not be told apart
_HAIRS = ("port", "starboard", "transom")
_THIRDS = ("setting-1", "setting-2", "setting-3")


def strip(board: Board, row: BoatRow, scale: Scale, top: float) -> SafeString:
    """The strip with its top edge at a height: each visit leads to its Why, initials where there is room."""
    marks = list(_band(board, row, scale, top, linked=True))
    marks += draw_initials.drawn(row, scale, top, BAND)
    marks += _flag(board, row, scale, top)
    by = row.promise.by
    if by is not None and not scale.holds(by):
        local = by.astimezone(board.zone)
        said = f"{local:%a} {local.day} {local:%b}"
        marks.append(svg.words(scale.right + 4, top + 14, said, "tiny"))
    return svg.group(marks, cls="strip")


def bare(board: Board, row: BoatRow, scale: Scale, top: float) -> SafeString:
    """The strip without letters and links, for a narrow sheet that has both in a list beneath."""
    marks = [
        *_band(board, row, scale, top, linked=False),
        *_flag(board, row, scale, top),
    ]
    return svg.group(marks, cls="strip")


def _band(
    board: Board, row: BoatRow, scale: Scale, top: float, *, linked: bool
) -> Iterator[SafeString]:
    alone = _alone(row.segments, scale)
    for segment, marked in zip(row.segments, alone, strict=True):
        said = f"{row.boat}, {between(segment.span, board.zone)}: {segment.words}"
        marks = list(_segment(segment, scale, top, marked=marked))
        if linked and segment.stage:
            to = f"{reverse('why', args=[segment.stage])}?week={board.days[0]}"
            yield svg.link(marks, to=to, title=said)
        else:
            yield svg.group(marks, title=said)
    yield from _notches(board, row, scale, top)
    yield from _shade(row, scale, top + BAND + 4)


def _alone(segments: Sequence[Segment], scale: Scale) -> Iterator[bool]:
    """Whether a mark under each segment stands clear of the same mark before it; else that one speaks for both."""
    last: dict[str, float] = {}
    for segment in segments:
        middle = (scale.x(segment.span.start) + scale.x(segment.span.end)) / 2
        clear = middle - last.get(segment.sky, -_CLEAR) >= _CLEAR
        if clear:
            last[segment.sky] = middle
        yield clear


def _segment(
    segment: Segment, scale: Scale, top: float, *, marked: bool
) -> Iterator[SafeString]:
    x, end = scale.x(segment.span.start), scale.x(segment.span.end)
    if segment.kind == "hands":
        wide = max(end - x, 2.5)
        cls = "hands under-way" if segment.under_way else "hands"
        yield svg.rect(x, top, wide, BAND, cls, rx=1.5)
        if segment.fast:
            yield from _knot(x, top)
        if segment.sky:
            yield from _doubt(segment.sky, (x, x + wide), top, marked=marked)
    elif segment.kind == "held":
        yield svg.rect(x, top, max(end - x, 2.5), BAND, "held", fill="url(#held)")
    elif segment.kind == "wet":
        yield svg.rect(x, top, end - x, BAND, "film-ground")
        yield svg.rect(x, top, end - x, BAND, "film", fill="url(#wet)")
    elif segment.kind == "setting":
        yield from _setting(x, end, top)
    else:
        yield from _waiting(segment, (x, end), top)


def _knot(x: float, top: float) -> Iterator[SafeString]:
    """Two turns of a rope at the band's corner: she is made fast here."""
    yield svg.path(f"M{x - 3:.1f} {top - 3:.1f}h10", "knot halo")
    loops = f"M{x - 3:.1f} {top - 3:.1f}c0 -4 5 -4 5 0c0 4 5 4 5 0c0 -4 -5 -4 -5 0c0 4 -5 4 -5 0z"
    yield svg.path(loops, "knot")


def _doubt(
    sky: SkyMark, ends: tuple[float, float], top: float, *, marked: bool
) -> Iterator[SafeString]:
    """Under hands still to come: crossed where the sky forbids them, dashed where it is not known, dotted where it is only likely."""
    x, end = ends
    under = top + BAND + 1.5
    yield svg.line(x, under, end, under, f"doubt {sky}")
    if not marked:
        return
    if sky == "forbids":
        cross = f"M{(x + end) / 2 - 4:.1f} {under - 4:.1f}l8 8m0 -8l-8 8"
        yield svg.path(cross, "doubt halo")
        yield svg.path(cross, "doubt cross")
    if sky == "unknown":
        yield svg.words((x + end) / 2, under + 5, "?", "doubt-mark", "middle")


def _setting(x: float, end: float, top: float) -> list[SafeString]:
    """Dots that grow denser third by third as the film sets."""
    third = (end - x) / 3
    return [
        svg.rect(x + i * third, top, third, BAND, "film", fill=f"url(#{dots})")
        for i, dots in enumerate(_THIRDS)
    ] + [svg.rect(x, top, end - x, BAND, "film-edge")]


def _waiting(
    segment: Segment, ends: tuple[float, float], top: float
) -> Iterator[SafeString]:
    """A thin line, with what she waits for in a word where there is room."""
    x, end = ends
    keel = top + BAND / 2
    yield svg.line(x, keel, end, keel, "keel")
    yield svg.rect(x, top, end - x, BAND, "clear")
    reason = segment.words.removeprefix("waits for the ").removeprefix("waits for ")
    word = reason.partition(":")[0]
    if word in ("hands", "sky") and end - x > 60:
        yield svg.words((x + end) / 2, keel + 3.5, word, "tiny wait", "middle")


def _notches(
    board: Board, row: BoatRow, scale: Scale, top: float
) -> Iterator[SafeString]:
    """Of the last film laid: a ring where it is rain-safe, a dot and its range where it can be sanded."""
    last = max(row.films, key=lambda film: film.laid_at, default=None)
    if last is None:
        return
    if last.rain_safe and scale.holds(last.rain_safe):
        ring = svg.mark(
            "circle", cls="ring", cx=scale.x(last.rain_safe), cy=top + BAND / 2, r=3.5
        )
        yield svg.group(
            [ring],
            title=f"{row.boat}: rain-safe about {dated(last.rain_safe, board.zone)}",
        )
    if last.sandable and scale.holds(last.sandable):
        yield svg.group(
            _sandable(last, last.sandable, scale, top + BAND / 2),
            title=f"{row.boat}: sandable about {dated(last.sandable, board.zone)}",
        )


def _sandable(film: Film, about: datetime, scale: Scale, y: float) -> list[SafeString]:
    early, late = film.earliest or about, film.latest
    end = scale.x(late) if late else scale.right
    return [
        svg.line(scale.x(early), y, end, y, "range-halo"),
        svg.line(scale.x(early), y, end, y, "range"),
        svg.mark("circle", cls="dot", cx=scale.x(about), cy=y, r=3.5),
    ]


def _shade(row: BoatRow, scale: Scale, top: float) -> Iterator[SafeString]:
    for i, panel in enumerate(_HAIRS):
        y = top + i * _HAIR
        marks = [
            svg.line(scale.x(span.start), y, scale.x(span.end), y, f"shade {panel}")
            for span in row.shade.get(panel, ())
        ]
        if marks:
            yield svg.group(marks, title=f"{row.boat}: {panel} in shade")


def _flag(board: Board, row: BoatRow, scale: Scale, top: float) -> Iterator[SafeString]:
    """Solid for a hard date, hollow for a range; in the accent where the plan breaks it."""
    by = row.promise.by
    if by is None or not scale.holds(by):
        return
    broken = row.promise.late_minutes > 0 or (
        row.promise.finish is None and board.state != "empty"
    )
    cls = f"flag {row.promise.kind}"
    x, foot = scale.x(by), top + BAND + 2
    pole = svg.line(x, top - 4, x, foot, "pole")
    cloth = svg.path(f"M{x:.1f} {top - 4:.1f}l9 4l-9 4z", cls)
    yield svg.group(
        [pole, cloth],
        title=f"{row.boat}: {promise(board, row)}",
        cls="broken" if broken else "",
    )
