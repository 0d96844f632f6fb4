"""A part of the board: what is wet, what the sky is against, what a van goes to, what is promised."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dispatch.actions.board import Board, BoatRow

_VAN = "van-"
_PLAIN = (("wet", "Wet or setting"), ("sky", "Sky in doubt"), ("promised", "Promised"))


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One part: its word in the address, its name, how many boats are in it, whether it is shown."""

    word: str
    name: str
    boats: int
    here: bool


def choices(board: Board, wanted: str) -> tuple[Choice, ...]:
    """Every part that has a boat in it, all of them first."""
    parts = [("", "All boats"), *_PLAIN]
    parts += [(f"{_VAN}{van.key}", van.name) for van in board.vans]
    found = (
        Choice(
            word=word,
            name=name,
            boats=sum(_in(board, row, word) for row in board.boats),
            here=word == wanted,
        )
        for word, name in parts
    )
    return tuple(one for one in found if one.boats or one.here or not one.word)


def part(board: Board, wanted: str) -> Board:
    """The board with the boats of one part alone; whole where the word is none."""
    if wanted not in {word for word, _ in _words(board)}:
        return board
    places = (
        replace(
            place, boats=tuple(row for row in place.boats if _in(board, row, wanted))
        )
        for place in board.places
    )
    return replace(board, places=tuple(place for place in places if place.boats))


def _words(board: Board) -> Iterator[tuple[str, str]]:
    yield from _PLAIN
    yield from ((f"{_VAN}{van.key}", van.name) for van in board.vans)


def _in(board: Board, row: BoatRow, word: str) -> bool:
    if word == "wet":
        return any(
            one.kind in ("wet", "setting") and one.span.holds(board.now)
            for one in row.segments
        )
    if word == "sky":
        return any(one.sky for one in row.segments)
    if word == "promised":
        return row.promise.by is not None
    if word.startswith(_VAN):
        return _goes(board, row, word.removeprefix(_VAN))
    return True


def _goes(board: Board, row: BoatRow, van: str) -> bool:
    stops = (
        stop
        for line in board.vans
        if line.key == van
        for trip in line.trips
        for stop in trip.stops
    )
    return any(stop.words.startswith(f"{row.boat}: ") for stop in stops)
