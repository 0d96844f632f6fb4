"""People, vans, equipment, places and drives as a week problem has them."""

from datetime import date, time
from typing import Any

from dispatch.actions import clock, load_out, rates, snapshot_barred, snapshot_hoods
from dispatch.actions import drives as told_drives
from dispatch.actions.timeline import Timeline
from dispatch.planner import travel
from dispatch.records.models import Equipment, KeptApart, Person, Place, Van

Row = dict[str, Any]


def people(line: Timeline) -> list[Row]:
    """Everybody active, with the skills they may use; when a fit test ends is told stage by stage."""
    first = min(max(line.dates[0], clock.today(str(line.zone))), line.dates[-1])
    rows = (
        Person.objects.filter(active=True)
        .prefetch_related("skills", "duties", "days_off")
        .order_by("key")
    )
    return [
        {
            "id": person.key,
            "skills": snapshot_barred.holds(line, person, first),
            "driver": person.drives,
            "duty": [_duty(line, person, day) for day in line.dates],
            "cents_per_hour": person.cents_per_hour,
            "week_regular_min": person.week_regular_minutes,
            "not_alone": person.not_alone,
        }
        for person in rows
    ]


def _duty(line: Timeline, person: Person, day: date) -> list[int] | None:
    usual = next(
        (row for row in person.duties.all() if row.weekday == day.weekday()), None
    )
    off = next((row for row in person.days_off.all() if row.on == day), None)
    if off is not None:
        return _minutes(line, day, off.start, off.end)
    return _minutes(line, day, usual.start, usual.end) if usual else None


def _minutes(
    line: Timeline, day: date, start: time | None, end: time | None
) -> list[int] | None:
    return (
        None
        if start is None or end is None
        else [line.at(day, start), line.at(day, end)]
    )


def apart(known: set[str]) -> list[list[str]]:
    """Pairs who are never in one team."""
    pairs = KeptApart.objects.values_list("first__key", "second__key")
    return [[first, second] for first, second in pairs if {first, second} <= known]


def vans(line: Timeline) -> list[Row]:
    """Every active van; it tows when it is rated, to the kilogram, for the heaviest trailer the outfit has."""
    heaviest = max(
        Equipment.objects.filter(active=True, towed=True).values_list(
            "weight_kg", flat=True
        ),
        default=0,
    )
    rows = (
        Van.objects.filter(active=True)
        .select_related("base")
        .prefetch_related("days_off")
        .order_by("key")
    )
    return [
        {
            "id": van.key,
            "base": van.base.key,
            "seats": van.seats,
            "tows": van.tow_rating_kg > 0
            and round(heaviest) <= round(van.tow_rating_kg),
            "gear": van.gear,
            "carries": snapshot_hoods.carried(van.carries),
            "duty": [_van_duty(line, van, day) for day in line.dates],
            "cents_per_day": van.cents_per_day,
            "cents_per_km": round(van.cents_per_km),
        }
        for van in rows
    ]


def _van_duty(line: Timeline, van: Van, day: date) -> list[int] | None:
    if any(row.on == day for row in van.days_off.all()):
        return None
    return [line.at(day, van.duty_start), line.at(day, van.duty_end)]


def trailers(line: Timeline) -> list[Row]:
    """Equipment that has a place by the start of the week, where it stands then."""
    rows = []
    for thing in Equipment.objects.filter(active=True).order_by("key"):
        standing = (
            thing.standings.filter(since__lte=line.zero)
            .select_related("place")
            .order_by("-since")
            .first()
        )
        if standing is not None:
            rows.append(_trailer(thing, standing.place.key))
    return rows


def _trailer(thing: Equipment, place: str) -> Row:
    return {
        "id": thing.key,
        "kind": thing.kind,
        "place": place,
        "towed": thing.towed,
        "hook_min": thing.take_minutes,
        "unhook_min": thing.set_minutes,
        "factor_pct": thing.drive_factor_pct,
    }


def places() -> list[Place]:
    """Every place, in the order that indexes the matrices."""
    return list(Place.objects.order_by("key"))


def drives(rows: list[Place]) -> dict[str, list[list[int]]]:
    """Minutes (signing in at the far end included) and metres from row to column."""
    known = told_drives.stored()
    roads = rates.roads()
    legs = [[_leg(known, roads, a, b) for b in rows] for a in rows]
    return {
        "drive_min": [[minutes for minutes, _ in row] for row in legs],
        "drive_m": [[metres for _, metres in row] for row in legs],
    }


def trips(rows: list[Place]) -> dict[str, list[list[int]]]:
    """The same with what goes before each drive: loading at a base, packing up at any other place."""
    found = drives(rows)
    before = [[load_out.minutes(a, b) for b in rows] for a in rows]
    pairs = zip(found["drive_min"], before, strict=True)
    rode = [[m + b for m, b in zip(*pair, strict=True)] for pair in pairs]
    return found | {"drive_min": rode}


def _leg(
    known: dict[tuple[int, int], tuple[int, int]],
    roads: travel.Roads,
    a: Place,
    b: Place,
) -> tuple[int, int]:
    if a.pk == b.pk:
        return 0, 0
    minutes, metres = known.get((a.pk, b.pk)) or travel.drive(
        a.latitude, a.longitude, b.latitude, b.longitude, roads
    )
    return minutes + b.sign_in_minutes, metres
