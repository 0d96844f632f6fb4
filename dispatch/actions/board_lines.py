"""The board's lines beneath the boats: vans, people and equipment."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
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
from dispatch.trade import spans
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
    if _is_off(reading, stop):
        off = f"{words}, off, as she is held for you"
        return Stop(does="held", span=span, place=boat.place.name, words=off)
    return Stop(does="visit", span=span, place=boat.place.name, words=words)


def _is_off(reading: Reading, stop: Row) -> bool:
    """Whether a stop is a visit to a boat that is held for the owner: nobody is to go there."""
    stage = reading.stages.get(stop["stage"]) if stop["do"] == "visit" else None
    if stage is None or stage.state == Stage.State.DONE:
        return False
    return stage.job_id in held_for_owner.jobs()


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
        used_minutes=sum(_paid(reading, day) for day in mine),
        of_minutes=min(duty, row["week_regular_min"]),
        out=tuple(
            reading.span(day["depart"], day["back"])
            for day in mine
            if _paid(reading, day)
        ),
        hands=tuple(
            reading.span(stop["start"], stop["end"])
            for day in mine
            for stop in day["stops"]
            if stop["do"] == "visit" and not _is_off(reading, stop)
        ),
        away=away,
    )


def _paid(reading: Reading, day: Row) -> int:
    """A van-day's paid minutes: without its break, and without what is off at its ends; what is off between is waited out."""
    stops = day["stops"]
    on = [nth for nth, one in enumerate(stops) if not _is_off(reading, one)]
    if stops and not on:
        return 0
    off = [*stops[: on[0]], *stops[on[-1] + 1 :]] if on else []
    free = [(one["start"], one["end"]) for one in off]
    if day["break"]:
        free.append(tuple(day["break"]))
    unpaid = spans.normal(reading.span(start, end) for start, end in free)
    minutes = sum((one.length for one in unpaid), timedelta()) // timedelta(minutes=1)
    return int(day["back"] - day["depart"]) - minutes


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
