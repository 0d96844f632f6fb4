"""What helps a boat whose work overran: more hands on the next visit, or a part of it on another day."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from typing import Any

from dispatch.actions import by_hand, mend_moves
from dispatch.actions.board_reading import Reading
from dispatch.actions.by_hand import Answer
from dispatch.records.models import Person, Van

Row = Mapping[str, Any]
Tried = Iterator[tuple[Row, Answer]]
_MOST_HOURS = 6


def more_hands(reading: Reading, stage: str) -> Tried:
    """A visit the same day by a bigger team: another van's that is out, or one of whoever is there and free."""
    here = mend_moves.stands(reading, stage)
    if here is None:
        return
    for start in _the_same_day(reading, stage, here):
        for van, team in _bigger(reading, here):
            answer = by_hand.try_put(reading.plan, stage, van, start, team=team)
            if answer.fits:
                yield mend_moves.ask(reading, stage, (van, start, team)), answer


def another_day(reading: Reading, stage: str) -> Tried:
    """A visit on a later day; what hangs on it slides with it."""
    here = mend_moves.stands(reading, stage)
    if here is None:
        return
    day = reading.line.dates[here["day"]]
    yield from mend_moves.elsewhere(
        reading, stage, lambda span, _: _on(reading, span.start) > day
    )


def _the_same_day(reading: Reading, stage: str, here: Row) -> list[datetime]:
    """Its own beginning, and the half hours of that day that are nearest to it."""
    stop = next(stop for stop in here["stops"] if stop.get("stage") == stage)
    own, day = reading.line.moment(stop["start"]), reading.line.dates[here["day"]]
    rows = mend_moves.half_hours(reading, stage)
    found = {one for one in rows if _on(reading, one) == day} | {own}
    return sorted(found, key=lambda one: (abs(one - own), one))[:_MOST_HOURS]


def _bigger(reading: Reading, here: Row) -> Iterator[tuple[Van, tuple[Person, ...]]]:
    """Vans that day with more people than the visit has now; a van that stands idle with a team of those who are free."""
    own, vans = len(here["team"]), Van.objects.filter(active=True)
    out = {row["van"]: row for row in reading.van_days if row["day"] == here["day"]}
    for van in vans:
        if van.key in out and len(out[van.key]["team"]) > own:
            yield van, ()
    idle = next((van for van in vans if van.key not in out), None)
    if idle is not None and own < idle.seats:
        for team in mend_moves.free(reading, here["day"], own + 1):
            yield idle, team


def _on(reading: Reading, moment: datetime) -> date:
    return moment.astimezone(reading.line.zone).date()
