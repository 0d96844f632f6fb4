"""A board as plain text, for the terminal and for screen readers."""

from collections.abc import Iterator, Sequence
from datetime import timedelta

from dispatch.actions.board import (
    Board,
    BoatRow,
    LeftOut,
    PersonLine,
    Snag,
)
from dispatch.actions.board_words import between, dated, lasting, when
from dispatch.actions.priced import Offer, Priced
from dispatch.actions.store_line import StoreLine
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_WORTH_TELLING = timedelta(minutes=20)

_STATES = {
    "draft": "A draft: nobody has been told",
    "standing": "The standing week",
    "past": "A week that was replaced",
    "empty": "Nothing is planned yet",
}


def text(board: Board) -> Iterator[str]:
    """One line for each thing the board draws: its boats, its lines beneath, what is left out, its snags."""
    first, last = board.days[0], board.days[-1]
    yield f"{board.outfit}, week of {first:%a} {first.day} {first:%b} to {last:%a} {last.day} {last:%b %Y}"
    yield f"{_STATES.get(board.state, board.state)}. It is {dated(board.now, board.zone)}."
    yield sky_line(board)
    for place in board.places:
        yield ""
        yield f"{place.name}, {place.drive_minutes} min from the base"
        for boat in place.boats:
            yield f"  {boat.boat}: {boat.kind}, {about(board, boat)}"
            yield from (f"    {line}" for line in strip_lines(board, boat))
    yield from _beneath(board)
    yield from _left_out(board)
    yield from _snags(board)


def sky_line(board: Board) -> str:
    """Whose sky it is and how old."""
    if board.sky.issued_at is None:
        return "Sky: no forecast, so unknown."
    age = lasting((board.now - board.sky.issued_at).total_seconds() / 60)
    return f"Sky at {board.sky.place}: forecast {age} old."


def about(board: Board, boat: BoatRow) -> str:
    """A boat's length, grade, heading, owner and promise."""
    words = Words(system=board.units)
    heading = boat.lie.heading_true_deg
    lies = "heading not read" if heading is None else f"heads {heading:03.0f} true"
    if boat.lie.turned_to_deg is not None:
        lies += f", turned to {boat.lie.turned_to_deg:03.0f}"
    return f"{words.distance(boat.lie.length_m)}, grade {boat.grade}, {lies}, {boat.customer}; {promise(board, boat)}"


def promise(board: Board, boat: BoatRow) -> str:
    """What was promised, and how the plan keeps it."""
    told = boat.promise
    if told.by is None:
        return "no day promised"
    hard = "hard date " if told.kind == "hard" else ""
    said = f"{hard}promised by {dated(told.by, board.zone)}"
    if any(segment.kind == "held" for segment in boat.segments):
        return f"{said}, not kept while she is held for you"
    if told.finish is None:
        return said
    if told.late_minutes > 0:
        return f"{said}, {lasting(told.late_minutes)} late"
    return f"{said}{_kept(boat)}"


def _kept(boat: BoatRow) -> str:
    """Whether the plan keeps a promise: not known where it hangs on a sky that is not, or that forbids."""
    marks = {segment.sky for segment in boat.segments}
    if "forbids" in marks:
        return ", kept only if the sky allows what it forbids now"
    if "unknown" in marks:
        return "; whether it is kept is not known, as her sky is not"
    return ", kept"


def strip_lines(board: Board, boat: BoatRow) -> Iterator[str]:
    """A boat's strip in words, segment by segment, then her shade."""
    if not boat.segments:
        yield "nothing planned this week"
    for segment in boat.segments:
        yield f"{between(segment.span, board.zone)}: {segment.words}"
    for panel in boat.shade:
        yield f"{panel} in shade: {shade_line(board, boat, panel)}"


def shade_line(board: Board, boat: BoatRow, panel: str) -> str:
    """A panel's shade by day; one line for all days where they are within ten minutes of one another."""
    by_day = [
        [
            span
            for span in boat.shade[panel]
            if day.holds(span.start) and span.length >= _WORTH_TELLING
        ]
        for day in board.day_spans
    ]
    if not any(by_day):
        return "never by day"
    if _alike(by_day, board):
        return "every day about " + _clock(by_day[len(by_day) // 2], board)
    return "; ".join(
        f"{day:%a} {_clock(spans, board)}"
        for day, spans in zip(board.days, by_day, strict=True)
        if spans
    )


def _clock(spans: Sequence[Span], board: Board) -> str:
    return ", ".join(
        f"{span.start.astimezone(board.zone):%H:%M}-{span.end.astimezone(board.zone):%H:%M}"
        for span in spans
    )


def _alike(by_day: Sequence[Sequence[Span]], board: Board) -> bool:
    """Whether every day has the same spans by the wall clock, to ten minutes."""
    edges = [
        [
            60 * local.hour + local.minute
            for span in spans
            for local in (
                span.start.astimezone(board.zone),
                span.end.astimezone(board.zone),
            )
        ]
        for spans in by_day
    ]
    first = edges[0]
    return all(
        len(day) == len(first)
        and all(abs(a - b) <= 10 for a, b in zip(day, first, strict=True))
        for day in edges
    )


def person_line(person: PersonLine) -> str:
    """A person's hours of those there are."""
    away = ", ".join(f"{day:%a}" for day in person.away)
    off = f", away {away}" if away else ""
    return f"{person.name}: {lasting(person.used_minutes)} of {lasting(person.of_minutes)}{off}"


def store_line(board: Board, line: StoreLine) -> str:
    """What is in store of a product, what the visits to come need, and what is left after each day."""
    words = Words(system=board.units)
    left = ", ".join(
        f"{day:%a} {words.volume(ml)}"
        for day, ml in zip(board.days, line.left_ml, strict=True)
    )
    past = (
        f"; {words.volume(line.past_ml)} past its shelf life, not counted"
        if line.past_ml
        else ""
    )
    unknown = (
        f"; not estimated: {', '.join(line.not_estimated)}"
        if line.not_estimated
        else ""
    )
    have, need = words.volume(line.start_ml), words.volume(line.needed_ml)
    # A visit whose use nobody estimated needs more than is known, and leaves less.
    need, most = (f"at least {need}", "at most ") if unknown else (need, "")
    return (
        f"{line.name}: {have} in store, {need} needed; left {most}{left}{past}{unknown}"
    )


def left_line(left: LeftOut) -> str:
    """What is left out of one job, and why."""
    names = ", ".join(stage.name for stage in left.stages)
    waiting = (
        f" Waiting for it: {', '.join(stage.name for stage in left.waiting)}."
        if left.waiting
        else ""
    )
    return f"{left.boat}: {names}. {left.why}{waiting}"


def _beneath(board: Board) -> Iterator[str]:
    yield ""
    for van in board.vans:
        for trip in van.trips:
            seats = f"{len(trip.people)} of {van.seats} seats"
            yield f"{van.name} {between(trip.span, board.zone)}, {seats}: {', '.join(trip.people)}"
            for stop in trip.stops:
                yield f"  {between(stop.span, board.zone)}: {stop.words}"
    yield from (person_line(person) for person in board.people)
    for thing in board.equipment:
        places = "; ".join(
            f"{'under way to' if stand.moving else 'at'} {stand.place} from {when(stand.span.start, board.zone)}"
            for stand in thing.stands
        )
        yield f"{thing.name}: {places}"
    yield from (store_line(board, line) for line in board.stores)


def _left_out(board: Board) -> Iterator[str]:
    if board.left_out:
        yield ""
        yield "Left out"
        yield from (f"  {left_line(left)}" for left in board.left_out)


def _mend(board: Board, snag: Snag) -> str:
    """What mends a snag and what that costs; as the house says it where nothing was worked out."""
    if snag.priced is None:
        return f" {snag.mend}" if snag.mend else ""
    named = "Mend: " if snag.priced.ask else ""
    return f" {named}{mend(board, snag.priced)}"


def _offer(board: Board, offer: Offer) -> str:
    """One of several things that may be done, with its price where it was worked out."""
    said = f" {mend(board, offer.priced)}" if offer.priced else ""
    return f"Or: {offer.words}.{said}"


def mend(board: Board, priced: Priced) -> str:
    """A mend as sentences, with its price and when that was worked out."""
    at = when(priced.at, board.zone)
    if not priced.ask:
        return f"{priced.words.rstrip('.')}. Tried {at}."
    if not priced.ask.get("priced", True):
        return f"{priced.words}. What that costs is not known (worked out {at})."
    return f"{priced.words}. {costs(priced.cents)} (worked out {at})."


def costs(cents: int) -> str:
    """Cents that a change adds, as a sentence without its full stop."""
    if not cents:
        return "Costs nothing more"
    return f"{'Costs' if cents > 0 else 'Saves'} ${abs(cents) / 100:,.0f}"


def _snags(board: Board) -> Iterator[str]:
    yield ""
    yield "Snags" if board.snags else "No snags."
    for snag in board.snags:
        yield f"  {snag.subject}: {snag.sentence}{_mend(board, snag)}"
        yield from (f"    {_offer(board, offer)}" for offer in snag.offers)
    if board.more_snags:
        yield f"  and {board.more_snags} lighter, not listed"
