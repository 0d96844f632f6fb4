"""Beneath the boats: vans, equipment, people, and what is left in store."""

from collections.abc import Iterator, Sequence

from django.utils.safestring import SafeString

from dispatch.actions.board import (
    Board,
    EquipmentLine,
    PersonLine,
    Stand,
    Trip,
    VanLine,
)
from dispatch.actions.board_text import person_line, store_line
from dispatch.actions.board_words import between, lasting
from dispatch.actions.store_line import StoreLine
from dispatch.trade.words import Words
from dispatch.web.owner import fitting, svg
from dispatch.web.owner.scale import Scale

ROW, APART = 21.0, 8.0
_LETTER = 6.3
_RIGHT, _AIR = 206.0, 8.0
_NAME_EM, _DETAIL_EM = 12.5, 11.0


def height(board: Board) -> float:
    """How high all the lines are together."""
    return sum(len(rows) * ROW + APART for rows in groups(board))


def groups(board: Board) -> list[Sequence[object]]:
    """The lines of each kind there is, in the order they stand in."""
    lines = (board.vans, board.equipment, board.people, board.stores)
    return [rows for rows in lines if rows]


def beneath(board: Board, scale: Scale, top: float) -> Iterator[SafeString]:
    """Every line from a height down, a little air between the kinds."""
    y = top
    for van in board.vans:
        y += ROW
        yield from named(
            van.name, f"{van.seats} seats{', tows' if van.tows else ''}", y
        )
        yield from _van(board, van, scale, y)
    y += APART if board.vans else 0
    for thing in board.equipment:
        y += ROW
        yield from named(thing.name, "", y)
        yield from _equipment(board, thing, scale, y)
    y += APART if board.equipment else 0
    for person in board.people:
        y += ROW
        yield from _person(board, person, scale, y)
    y += APART if board.people else 0
    for store in board.stores:
        y += ROW
        yield from _store(board, store, scale, y)


def named(
    name: str, detail: str, y: float, *, trouble: bool = False
) -> Iterator[SafeString]:
    """A name at the left and what is told of it at the right of the labels; a long name leaves room for that."""
    taken = fitting.width(detail, _DETAIL_EM) + _AIR if detail else 0
    short = fitting.fitted(name, _RIGHT - taken, _NAME_EM)
    yield svg.words(0, y, short, "small-name")
    if detail:
        cls = f"tiny{' trouble' if trouble else ''}"
        yield svg.words(_RIGHT, y, detail, cls, "end")


def _van(board: Board, van: VanLine, scale: Scale, y: float) -> Iterator[SafeString]:
    for trip in van.trips:
        yield _trip(board, van, trip, scale, y)


def _trip(board: Board, van: VanLine, trip: Trip, scale: Scale, y: float) -> SafeString:
    """Thin on the road, broad at a boat, a kink where something is towed or carried."""
    x, end = scale.x(trip.span.start), scale.x(trip.span.end)
    marks = [svg.line(x, y - 4, end, y - 4, "road")]
    for stop in trip.stops:
        a, b = scale.x(stop.span.start), scale.x(stop.span.end)
        if stop.does == "visit":
            marks.append(svg.rect(a, y - 7.5, b - a, 7, "at-boat"))
        elif stop.does == "held":
            marks.append(svg.rect(a, y - 7.5, b - a, 7, "held", fill="url(#held)"))
        else:
            marks.append(svg.path(_kink(a, b, y - 4), "kink"))
    seats = f"{len(trip.people)}/{van.seats}"
    marks.append(svg.words(end + 3, y, seats, "tiny"))
    stops = "; ".join(f"{between(s.span, board.zone)} {s.words}" for s in trip.stops)
    said = f"{van.name} {between(trip.span, board.zone)}, {', '.join(trip.people)}: {stops}"
    return svg.group(marks, title=said)


def _kink(a: float, b: float, y: float) -> str:
    points = [f"M{a:.1f} {y:.1f}"]
    x, up = a, True
    while x + 3 < b:
        x += 3
        points.append(f"L{x:.1f} {y - 3.5 if up else y + 3.5:.1f}")
        up = not up
    return "".join([*points, f"L{b:.1f} {y:.1f}"])


def _equipment(
    board: Board, thing: EquipmentLine, scale: Scale, y: float
) -> Iterator[SafeString]:
    for stand in thing.stands:
        yield _stand(board, thing, stand, scale, y)


def _stand(
    board: Board, thing: EquipmentLine, stand: Stand, scale: Scale, y: float
) -> SafeString:
    a, b = scale.x(stand.span.start), scale.x(stand.span.end)
    if stand.moving:
        said = f"{thing.name} under way to {stand.place}, {between(stand.span, board.zone)}"
        return svg.group([svg.path(_kink(a, b, y - 4), "kink")], title=said)
    marks = [svg.line(a, y - 4, b, y - 4, "stands"), svg.line(a, y - 8, a, y, "tick")]
    name = stand.place
    short = fitting.whole_words(name, int((b - a - 14) / _LETTER))
    if short:
        marks.append(svg.words(a + 6, y, short, "tiny halo"))
    said = f"{thing.name} at {name}, {between(stand.span, board.zone)}"
    return svg.group(marks, title=said)


def _person(
    board: Board, person: PersonLine, scale: Scale, y: float
) -> Iterator[SafeString]:
    over = person.used_minutes > person.of_minutes
    used, of = lasting(person.used_minutes), lasting(person.of_minutes)
    said = f"{used} of {of}" if person.used_minutes else "not used"
    yield from named(person.name, said, y, trouble=over)
    marks = [
        svg.line(scale.x(s.start), y - 4, scale.x(s.end), y - 4, "road")
        for s in person.out
    ]
    marks += [
        svg.rect(
            scale.x(s.start), y - 7.5, scale.x(s.end) - scale.x(s.start), 7, "at-boat"
        )
        for s in person.hands
    ]
    for day, span in zip(board.days, board.day_spans, strict=True):
        if day in person.away:
            middle = (scale.x(span.start) + scale.x(span.end)) / 2
            marks.append(svg.words(middle, y, "away", "tiny", "middle"))
    yield svg.group(marks, title=person_line(person))


def _store(
    board: Board, store: StoreLine, scale: Scale, y: float
) -> Iterator[SafeString]:
    """Left after each day; in the accent where it is below the reserve to be carried."""
    words = Words(system=board.units)
    unknown = "use not known" if store.not_estimated else ""
    yield from named(store.name, unknown, y, trouble=True)
    marks = []
    for span, left in zip(board.day_spans, store.left_ml, strict=True):
        middle = (scale.x(span.start) + scale.x(span.end)) / 2
        short = left < store.reserve_ml
        marks.append(
            svg.words(
                middle,
                y,
                words.volume(left),
                f"left{' trouble' if short else ''}",
                "middle",
            )
        )
    yield svg.group(marks, title=store_line(board, store))
