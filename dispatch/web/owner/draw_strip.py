"""A boat's strip: one unbroken band with her shade beneath, her notches and her promise."""

from collections.abc import Iterator
from datetime import datetime

from django.urls import reverse
from django.utils.safestring import SafeString

from dispatch.actions.board import Board, BoatRow, Film, Segment
from dispatch.actions.board_text import promise
from dispatch.actions.board_words import between, dated
from dispatch.web.owner import svg
from dispatch.web.owner.scale import Scale

BAND = 20.0
_LETTER = 6.7
_HAIR = 4.0
_HAIRS = ("port", "starboard", "transom")
_THIRDS = ("setting-1", "setting-2", "setting-3")


def strip(board: Board, row: BoatRow, scale: Scale, top: float) -> SafeString:
    """The strip with its top edge at a height; its text stands beside the drawing as a list."""
    keel = top + BAND / 2
    marks = [_keel(row, scale, keel)] if row.span else []
    for segment in row.segments:
        marks += _segment(board, row, segment, scale, top)
    marks += _labels(row, scale, top)
    marks += _notches(board, row, scale, top)
    marks += _shade(row, scale, top + BAND + 4)
    marks += _flag(board, row, scale, top)
    return svg.group(marks, cls="strip")


def _keel(row: BoatRow, scale: Scale, y: float) -> SafeString:
    span = row.span
    return (
        svg.line(scale.x(span.start), y, scale.x(span.end), y, "keel")
        if span
        else svg.NOTHING
    )


def _segment(
    board: Board, row: BoatRow, segment: Segment, scale: Scale, top: float
) -> Iterator[SafeString]:
    x, end = scale.x(segment.span.start), scale.x(segment.span.end)
    said = f"{row.boat}, {between(segment.span, board.zone)}: {segment.words}"
    if segment.kind == "hands":
        cls = "hands under-way" if segment.under_way else "hands"
        band = svg.rect(x, top, max(end - x, 2.5), BAND, cls, rx=1.5)
        to = reverse("why", args=[segment.stage])
        yield svg.link([band], to=to, title=said)
    elif segment.kind == "wet":
        marks = [
            svg.rect(x, top, end - x, BAND, "film-ground"),
            svg.rect(x, top, end - x, BAND, "film", fill="url(#wet)"),
        ]
        yield svg.group(marks, title=said)
    elif segment.kind == "setting":
        yield svg.group(_setting(x, end, top), title=said)
    else:
        yield from _waiting(segment, (x, end), top, said)


def _setting(x: float, end: float, top: float) -> list[SafeString]:
    """Dots that grow denser third by third as the film sets."""
    third = (end - x) / 3
    return [
        svg.rect(x + i * third, top, third, BAND, "film", fill=f"url(#{dots})")
        for i, dots in enumerate(_THIRDS)
    ] + [svg.rect(x, top, end - x, BAND, "film-edge")]


def _waiting(
    segment: Segment, ends: tuple[float, float], top: float, said: str
) -> Iterator[SafeString]:
    x, end = ends
    keel = top + BAND / 2
    reason = segment.words.removeprefix("waits for the ").removeprefix("waits for ")
    word = reason.partition(":")[0]
    marks = [svg.rect(x, top, end - x, BAND, "clear")]
    if word in ("hands", "sky") and end - x > 60:
        middle = (x + end) / 2
        marks.append(svg.words(middle, keel + 3.5, word, "tiny wait", "middle"))
    yield svg.group(marks, title=said)


def _labels(row: BoatRow, scale: Scale, top: float) -> Iterator[SafeString]:
    """Initials inside the band where they fit, else above it where there is room."""
    free_from = 0.0
    for team, x, end in _runs(row, scale):
        said = " ".join(team)
        wide = _LETTER * len(said)
        if wide <= end - x - 2:
            yield svg.words((x + end) / 2, top + BAND / 2 + 4, said, "who", "middle")
        elif x >= free_from:
            yield svg.words(x, top - 3, said, "who-above")
            free_from = x + wide + 4


def _runs(row: BoatRow, scale: Scale) -> Iterator[tuple[tuple[str, ...], float, float]]:
    """Hands of one team one after another, as one run."""
    run: tuple[tuple[str, ...], float, float] | None = None
    for segment in row.segments:
        if segment.kind != "hands" or not segment.initials:
            continue
        x, end = scale.x(segment.span.start), scale.x(segment.span.end)
        if run and run[0] == segment.initials and x - run[2] < 1:
            run = (run[0], run[1], end)
            continue
        if run:
            yield run
        run = (segment.initials, x, end)
    if run:
        yield run


def _notches(
    board: Board, row: BoatRow, scale: Scale, top: float
) -> Iterator[SafeString]:
    """Of the last film laid: a ring where it is rain-safe, a dot and its range where it can be sanded."""
    last = max(row.films, key=lambda film: film.laid_at, default=None)
    if last is None:
        return
    if last.rain_safe and scale.holds(last.rain_safe):
        ring = svg.mark(
            "circle", cls="ring", cx=scale.x(last.rain_safe), cy=top - 3, r=3
        )
        yield svg.group(
            [ring],
            title=f"{row.boat}: rain-safe about {dated(last.rain_safe, board.zone)}",
        )
    if last.sandable and scale.holds(last.sandable):
        yield svg.group(
            _sandable(last, last.sandable, scale, top - 3),
            title=f"{row.boat}: sandable about {dated(last.sandable, board.zone)}",
        )


def _sandable(film: Film, about: datetime, scale: Scale, y: float) -> list[SafeString]:
    early, late = film.earliest or about, film.latest
    end = scale.x(late) if late else scale.right
    return [
        svg.line(scale.x(early), y, end, y, "range"),
        svg.mark("circle", cls="dot", cx=scale.x(about), cy=y, r=3),
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
    if by is None:
        return
    broken = row.promise.late_minutes > 0 or (
        row.promise.finish is None and board.state != "empty"
    )
    cls = f"flag {row.promise.kind}"
    if not scale.holds(by):
        local = by.astimezone(board.zone)
        said = f"{local:%a} {local.day} {local:%b}"
        yield svg.words(scale.right + 4, top + 14, said, "tiny")
        return
    x, foot = scale.x(by), top + BAND + 2
    pole = svg.line(x, top - 4, x, foot, "pole")
    cloth = svg.path(f"M{x:.1f} {top - 4:.1f}l9 4l-9 4z", cls)
    yield svg.group(
        [pole, cloth],
        title=f"{row.boat}: {promise(board, row)}",
        cls="broken" if broken else "",
    )
