"""Swaps of who rides that mend a snag: somebody for one who is away, or for a day of one who works too long."""

from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.actions import board_lines, by_hand
from dispatch.actions.board_reading import Reading
from dispatch.actions.by_hand import Answer
from dispatch.records.models import Person, Van

Row = Mapping[str, Any]
Tried = Iterator[tuple[Mapping[str, Any], Answer]]


def instead(reading: Reading, which: str) -> Tried:
    """Somebody else for a person on a day, ``KEY:DAY``."""
    person, _, day = which.rpartition(":")
    for row in _ahead(reading, person):
        if row["day"] == int(day):
            yield from swaps(reading, row, person)


def within_hours(reading: Reading, person: str) -> Tried:
    """Somebody else for one day of a person, after which nobody is over their hours."""
    limits = {one.key: one.of_minutes for one in board_lines.people(reading)}
    for row in _ahead(reading, person):
        for ask, answer in swaps(reading, row, person):
            used = _used(answer.plan or {})
            riders = (person, ask["into"])
            if all(used.get(one, 0) <= limits.get(one, 0) for one in riders):
                yield ask, answer


def _ahead(reading: Reading, person: str) -> Iterator[Row]:
    now = reading.line.minute(reading.now)
    yield from (
        row
        for row in reading.van_days
        if person in row["team"] and row["depart"] >= now
    )


def swaps(reading: Reading, row: Row, out: str) -> Tried:
    """Whoever rides nowhere that day, in a person's stead."""
    van = Van.objects.filter(key=row["van"]).first()
    riding = {
        p for vd in reading.van_days if vd["day"] == row["day"] for p in vd["team"]
    }
    for one in reading.problem["people"]:
        into = reading.people.get(one["id"])
        if van is None or into is None or one["id"] in riding:
            continue
        if one["duty"][row["day"]]:
            yield from _swap(reading, row, van, (reading.people[out], into))


def _swap(reading: Reading, row: Row, van: Van, who: tuple[Person, Person]) -> Tried:
    out, into = who
    answer = by_hand.try_swap(reading.plan, van, row["day"], out, into)
    if answer.fits:
        on = reading.line.dates[row["day"]]
        yield (
            {
                "do": "swap",
                "van": van.key,
                "day": f"{on:%Y-%m-%d}",
                "out": out.key,
                "into": into.key,
            },
            answer,
        )


def _used(plan: Mapping[str, Any]) -> dict[str, int]:
    """Paid minutes of each person: from leaving to being back, the break taken out."""
    used: dict[str, int] = {}
    for row in plan.get("van_days", ()):
        rest = row["break"][1] - row["break"][0] if row["break"] else 0
        for person in row["team"]:
            used[person] = used.get(person, 0) + row["back"] - row["depart"] - rest
    return used
