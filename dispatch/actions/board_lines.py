"""The board's lines beneath the boats: vans, people and equipment."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from dispatch.actions import held_for_owner, one_moment, snapshot_air
from dispatch.actions.board import (
    EquipmentLine,
    PersonLine,
    Stand,
    Stop,
    Trip,
    VanLine,
)
from dispatch.actions.board_reading import Reading
from dispatch.records.models import DayOff, Equipment, Stage, Van
from dispatch.trade.spans import Span

Row = Mapping[str, Any]


def vans(reading: Reading) -> tuple[VanLine, ...]:
    """Every van with its days on the road."""
    tows = {row["id"]: row["tows"] for row in reading.problem.get("vans", ())}
    return tuple(
        VanLine(
            key=van.key,
            name=van.name,
            seats=van.seats,
            tows=tows.get(van.key, van.tow_rating_kg > 0),
            trips=tuple(
                _trip(reading, row) for row in reading.van_days if row["van"] == van.key
            ),
        )
        for van in Van.objects.filter(active=True)
    )


def _trip(reading: Reading, row: Row) -> Trip:
    rest = row["break"]
    return Trip(
        on=reading.line.dates[row["day"]],
        span=reading.span(row["depart"], row["back"]),
        rest=None if rest is None else reading.span(rest[0], rest[1]),
        people=tuple(reading.name(person) for person in row["team"]),
        initials=tuple(reading.initials(person) for person in row["team"]),
        stops=tuple(_stop(reading, stop) for stop in row["stops"]),
    )


def _stop(reading: Reading, stop: Row) -> Stop:
    span = reading.span(stop["start"], stop["end"])
    if stop["do"] == "tow":
        to = reading.place(stop["to"])
        words = f"takes {_equipment(stop['trailer'])} from {reading.place(stop['from'])} to {to}"
        return Stop(does="tow", span=span, place=to, words=words)
    stage = reading.stages.get(stop["stage"])
    if stage is None:
        return Stop(does="visit", span=span, place="", words=stop["stage"])
    boat, words = stage.job.boat, f"{stage.job.boat.name}: {stage.name}"
    if stage.state != Stage.State.DONE and stage.job_id in held_for_owner.jobs():
        off = f"{words}, off, as she is held for you"
        return Stop(does="held", span=span, place=boat.place.name, words=off)
    return Stop(does="visit", span=span, place=boat.place.name, words=words)


def _equipment(key: str) -> str:
    names = one_moment.once(
        "equipment", lambda: dict(Equipment.objects.values_list("key", "name"))
    )
    return names.get(key, key)


def people(reading: Reading) -> tuple[PersonLine, ...]:
    """Everybody in the week with their paid minutes; the week's room is duty, capped at its regular minutes."""
    off = _away(reading)
    return tuple(
        _person(reading, row, off.get(row["id"], ()))
        for row in reading.problem.get("people", ())
    )


def _person(reading: Reading, row: Row, away: tuple[date, ...]) -> PersonLine:
    mine = [day for day in reading.van_days if row["id"] in day["team"]]
    duty = sum(span[1] - span[0] for span in row["duty"] if span)
    return PersonLine(
        key=row["id"],
        name=reading.name(row["id"]),
        initials=reading.initials(row["id"]),
        used_minutes=sum(_paid(day) for day in mine),
        of_minutes=min(duty, row["week_regular_min"]),
        out=tuple(reading.span(day["depart"], day["back"]) for day in mine),
        hands=tuple(
            reading.span(stop["start"], stop["end"])
            for day in mine
            for stop in day["stops"]
            if stop["do"] == "visit"
        ),
        away=away,
    )


def _paid(day: Row) -> int:
    rest = day["break"] or (0, 0)
    return int(day["back"] - day["depart"] - (rest[1] - rest[0]))


def _away(reading: Reading) -> Mapping[str, tuple[date, ...]]:
    found: dict[str, tuple[date, ...]] = {}
    rows = DayOff.objects.filter(on__in=reading.line.dates, start=None)
    for key, on in rows.values_list("person__key", "on"):
        found[key] = (*found.get(key, ()), on)
    return found


def equipment(reading: Reading) -> tuple[EquipmentLine, ...]:
    """Where each trailer and canopy is over the week."""
    return tuple(
        EquipmentLine(
            key=row["id"],
            name=_equipment(row["id"]),
            stands=tuple(_stands(reading, row)),
        )
        for row in snapshot_air.real(reading.problem.get("trailers", ()))
    )


def _stands(reading: Reading, row: Row) -> Iterable[Stand]:
    place, since = row["place"], reading.horizon.start
    for tow in _tows(reading, row["id"]):
        span = reading.span(tow["start"], tow["end"])
        if since < span.start:
            yield Stand(
                place=reading.place(place), span=Span(since, span.start), moving=False
            )
        yield Stand(place=reading.place(tow["to"]), span=span, moving=True)
        place, since = tow["to"], span.end
    if since < reading.horizon.end:
        yield Stand(
            place=reading.place(place),
            span=Span(since, reading.horizon.end),
            moving=False,
        )


def _tows(reading: Reading, trailer: str) -> list[Row]:
    found = [
        stop
        for day in reading.van_days
        for stop in day["stops"]
        if stop["do"] == "tow" and stop["trailer"] == trailer
    ]
    return sorted(found, key=lambda stop: stop["start"])
