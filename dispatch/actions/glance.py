"""The seven questions an owner asks a week, each answered in one line, and what the sky says of it all.

What is wet, what can still be sprayed, which promise breaks, who is idle or over hours, what runs short, what changed,
who has not been told.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from dispatch.actions import film_threat
from dispatch.actions.board import Board, BoatRow, Film, Segment, Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_text import costs
from dispatch.actions.board_words import between, lasting, names, opening, when
from dispatch.actions.seen import News
from dispatch.actions.slots import Slot
from dispatch.actions.untold import Untold

_DRY = "no rain or dew forecast till it is rain-safe"
_HANDS = ("hours", "away", "full")
_PROMISES = ("late", "tight", "broken")
_MARKS = (
    ("forbids", "forbids {}"),
    ("unknown", "not known for {}, so no go"),
    ("likely", "only likely for {}"),
)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One answer: its name, what it says, whether it wants doing, and the part of the page that tells more."""

    key: str
    name: str
    says: str
    trouble: bool = False


@dataclass(frozen=True)
class Beside:
    """What stands beneath the board: slots that remain, who is not told, what changed."""

    slots: Sequence[Slot]
    untold: Sequence[Untold]
    news: News


def of(reading: Reading, board: Board, beside: Beside) -> tuple[Line, ...]:
    """The seven answers, in the order an owner asks, and the sky's."""
    return (
        _wet(reading, board),
        _slots(board, beside.slots),
        _promises(board),
        _hands(reading, board),
        _stores(board),
        changed(board, beside.news),
        _untold(board, beside.untold),
        _sky(board),
    )


def _wet(reading: Reading, board: Board) -> Line:
    """Which boats are wet or setting, until when, and what threatens them."""
    said = []
    trouble = False
    for row, words in _down(board):
        threat = film_threat.of(reading, row, board.now)
        kept = film_threat.kept_by(reading, row, board.now)
        trouble = trouble or bool(threat)
        said.append(f"{row.boat}: {words}; {threat or kept or _DRY}")
    none = f"nothing now{_next_film(board)}"
    return Line(
        key="wet",
        name="Wet or setting",
        says="; ".join(said) or none,
        trouble=trouble,
    )


def _down(board: Board) -> Iterator[tuple[BoatRow, str]]:
    """Each boat whose film is wet or setting now, and that in words: of one that hands are on too."""
    for row in board.boats:
        now = next((one for one in row.segments if one.span.holds(board.now)), None)
        if now is not None and now.kind in ("wet", "setting"):
            yield row, now.words
        elif wet := [film for film in row.films if _is_wet(film, board.now)]:
            ends = [film.rain_safe for film in wet]
            last = None if None in ends else max(filter(None, ends))
            until = when(last, board.zone) if last else "a time not known"
            yield row, f"wet, with hands on her; rain-safe about {until}"


def _is_wet(film: Film, now: datetime) -> bool:
    safe = film.rain_safe
    return film.laid_at <= now and (safe is None or safe > now)


def _next_film(board: Board) -> str:
    laid = [
        (film.laid_at, row.boat)
        for row in board.boats
        for film in row.films
        if film.laid_at > board.now
    ]
    if not laid:
        return ""
    at, boat = min(laid)
    return f"; next {boat}, {when(at, board.zone)}"


def _slots(board: Board, slots: Sequence[Slot]) -> Line:
    if not slots:
        return Line(key="slots", name="Spray slots", says="none that a coat waits for")
    if board.sky.issued_at is None:
        unknown = "not known without a forecast, so none counts"
        return Line(key="slots", name="Spray slots", says=unknown, trouble=True)
    best = slots[0]
    who = f"{names(best.free[:2])} free" if best.free else "nobody free who may spray"
    says = (
        f"best {between(best.span, board.zone)} for {best.boat}, “{best.name}”: {who}"
    )
    if len(slots) > 1:
        says += f"; {len(slots) - 1} more"
    doubt = ""
    if board.sky.stale:
        age = (board.now - board.sky.issued_at) / timedelta(minutes=1)
        doubt = f". The forecast is {lasting(age)} old, so look again when a newer one is in"
    elif any(one.sky == "forbids" for row in board.boats for one in row.segments):
        doubt = ". So it was when the week was built; the newer sky forbids visits"
    return Line(key="slots", name="Spray slots", says=says + doubt, trouble=bool(doubt))


def _promises(board: Board) -> Line:
    """The promise nearest to breaking, with its mend; why it breaks is told among the snags."""
    kept = _about(board, _PROMISES)
    if not kept:
        promised = any(row.promise.by for row in board.boats)
        says = (
            "all kept, with time to spare"
            if promised
            else "none given for this week's boats"
        )
        return Line(key="snags", name="Promises", says=says)
    worst = kept[0]
    said = opening(worst.sentence, _named(board))
    return Line(
        key="snags",
        name="Promises",
        says=f"{worst.subject}: {said}{_mended(worst)}{_more(kept)}",
        trouble=True,
    )


def _mended(snag: Snag) -> str:
    if snag.priced is None:
        return ""
    if not snag.priced.ask:
        return ". No single move mends it"
    return f". Mend: {snag.priced.words}, {costs(snag.priced.cents).lower()}"


def _more(kept: Sequence[Snag]) -> str:
    return f"; {len(kept) - 1} more" if len(kept) > 1 else ""


def _about(board: Board, kinds: Sequence[str]) -> list[Snag]:
    every = (*board.snags, *board.unlisted)
    return [one for one in every if one.about.partition(":")[0] in kinds]


def _hands(reading: Reading, board: Board) -> Line:
    """Who or what is over hours or away, and who is idle on the day that runs or comes next."""
    every = (*board.snags, *board.unlisted)
    rules = [one for one in every if one.setting == "shifts"]
    over = sorted([*_about(board, _HANDS), *rules], key=lambda one: -one.weight)
    said = [_told(one) for one in over[:1]]
    if len(over) > 1:
        said.append(f"{len(over) - 1} more")
    said += _idle(reading, board)
    none = "nobody over hours, stranded or idle"
    return Line(
        key="in-words",
        name="Crew",
        says="; ".join(said) or none,
        trouble=bool(over),
    )


def _told(snag: Snag) -> str:
    """A snag with whom it is about, once."""
    said = snag.sentence.rstrip(".")
    return said if said.startswith(snag.subject) else f"{snag.subject}: {said}"


def _idle(reading: Reading, board: Board) -> Iterator[str]:
    """Who has no work on the first day still to come that has any."""
    trips = [trip for van in board.vans for trip in van.trips]
    day = min((trip.on for trip in trips if trip.span.end > board.now), default=None)
    if day is None:
        return
    riding = {one for trip in trips if trip.on == day for one in trip.people}
    on = board.days.index(day)
    there = [row["id"] for row in reading.problem["people"] if row["duty"][on]]
    idle = [name for key in there if (name := reading.name(key)) not in riding]
    if idle:
        yield f"idle {day:%a}: {names(idle)}"


def _stores(board: Board) -> Line:
    short = [one for one in board.stores if one.first_short]
    if not short:
        return Line(
            key="stores",
            name="Stores",
            says=f"nothing runs short this week{_guess(board)}",
        )
    first = min(short, key=lambda one: one.first_short or datetime.max)  # noqa: DTZ901
    snag = next((one for one in board.snags if one.subject == first.name), None)
    mend = f". {snag.mend.rstrip('.')}" if snag and snag.mend else ""
    at = when(first.first_short, board.zone) if first.first_short else ""
    return Line(
        key="stores",
        name="Stores",
        says=f"{first.name} runs short {at}{mend}{_guess(board)}",
        trouble=True,
    )


def _guess(board: Board) -> str:
    """The products whose use nobody has estimated: what is left of them is not known."""
    unknown = [one.name for one in board.stores if one.not_estimated]
    return f"; use of {names(unknown)} not known" if unknown else ""


def changed(board: Board, news: News) -> Line:
    """How much changed since the owner looked, the last of it by whom; a week without a plan has it too."""
    if not news.lines:
        return Line(key="news", name="Changed", says="nothing since you last looked")
    row = news.lines[0]
    many = len(news.lines) + news.more
    since = f"{many} since you looked, the last" if news.since else "last"
    said = f"{when(row.at, board.zone)} by {row.actor}: {opening(row.sentence, _named(board))}"
    return Line(key="news", name="Changed", says=f"{since} {said}")


def _named(board: Board) -> list[str]:
    return [*(row.boat for row in board.boats), *(row.boat for row in board.left_out)]


def _untold(board: Board, untold: Sequence[Untold]) -> Line:
    if board.state != "standing":
        return Line(key="untold", name="Not told", says="nobody is told of a draft")
    if not untold:
        ahead = any(one.span.start > board.now for one, _ in _visits(board))
        says = "everybody to come to was told" if ahead else "no visit to come"
        return Line(key="untold", name="Not told", says=says)
    call = [one for one in untold if one.by_hand]
    first = (call or list(untold))[0]
    many = f"{len(untold)} visit{'' if len(untold) == 1 else 's'}"
    says = f"{many}; first {first.boat}, {when(first.start, board.zone)}"
    if call:
        all_of = "" if len(call) == len(untold) else f"{many}, "
        says = f"{all_of}{len(call)} to call by hand: first {first.boat}, {when(first.start, board.zone)}"
    return Line(key="untold", name="Not told", says=says, trouble=bool(call))


def _sky(board: Board) -> Line:
    """How many visits still to come the sky forbids, or is not known for, and the first of them."""
    ahead = [found for found in _visits(board) if found[0].span.end > board.now]
    said = [
        told for mark, words in _MARKS if (told := _marked(board, ahead, mark, words))
    ]
    if board.sky.stale:
        said.append("the forecast is old")
    return Line(
        key="sky",
        name="Sky",
        says="; ".join(said)
        or ("allows every visit to come" if ahead else "no visit to come"),
        trouble=board.sky.stale
        or any(one.sky in ("forbids", "unknown") for one, _ in ahead),
    )


def _visits(board: Board) -> list[tuple[Segment, str]]:
    """Each visit with its boat."""
    rows = ((one, row.boat) for row in board.boats for one in row.segments)
    return [(one, boat) for one, boat in rows if one.kind == "hands"]


def _marked(
    board: Board, ahead: Sequence[tuple[Segment, str]], mark: str, words: str
) -> str:
    found = sorted((one.span.start, boat) for one, boat in ahead if one.sky == mark)
    if not found:
        return ""
    at, boat = found[0]
    many = f"{len(found)} visit{'' if len(found) == 1 else 's'}"
    return f"{words.format(many)}, first {when(at, board.zone)}, {boat}"
