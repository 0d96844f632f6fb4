"""A place as it stands and as the owner changes it: its rules, what stands near, its hours, how its sky differs."""

import math
from collections.abc import Mapping
from datetime import time
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from dispatch.actions import (
    access,
    clock,
    due,
    facts,
    history,
    keeping,
    place_bounds,
    place_words,
    rejudging,
    turns,
)
from dispatch.actions.errors import Refused
from dispatch.records.models import AccessHours, Account, Boat, Closure, Place

PLAIN = (
    "name",
    "address",
    "gate",
    "rules",
    "time_zone",
    "latitude",
    "longitude",
    "declination_deg",
    "spray_rule",
    "two_part_allowed",
    "heat_rule",
    "afloat",
    "water",
    "power",
    "sign_in_minutes",
    "swing_room_m",
    "water_off_m",
    "wind_factor",
    "day_offset_k",
    "night_offset_k",
    "neighbours",
    "horizon",
    "wettings",
)
# These change what the book's jobs take, not only when they may be done.
_LABOUR = {"afloat", "water", "power"}
_SAME_COMPASS_M = 100_000
_DEGREE_M = 111_195
_NO_SKY = {"name", "address", "gate", "rules", "heat_rule", "sign_in_minutes"}


def values(place: Place) -> dict[str, Any]:
    """Everything of a place that may be changed, in SI; hours as (weekday, from, to), Monday is 0."""
    hours = place.access_hours.order_by("weekday", "start")
    rows = _closures(place)
    return {name: getattr(place, name) for name in PLAIN} | {
        "hours": [(row.weekday, row.start, row.end) for row in hours],
        "closures": [
            {
                "kind": row.kind,
                "start": row.start,
                "end": row.end,
                "reason": row.reason,
            }
            for row in rows
        ],
    }


def geojson() -> dict[str, Any]:
    """Every place as a FeatureCollection of points, longitude first (RFC 7946, 3.1.1 and 3.3)."""
    rows = Place.objects.prefetch_related("boats").order_by("name")
    return {
        "type": "FeatureCollection",
        "features": [
            {
                "type": "Feature",
                "id": place.key,
                "geometry": {
                    "type": "Point",
                    "coordinates": [place.longitude, place.latitude],
                },
                "properties": {
                    "name": place.name,
                    "spraying": place.get_spray_rule_display(),
                    "time_zone": place.time_zone,
                    "boats": sorted(boat.name for boat in place.boats.all()),
                },
            }
            for place in rows
        ],
    }


@transaction.atomic
def change(
    place: Place,
    new: Mapping[str, Any],
    *,
    by: Account,
    why: str = "",
    seen: str = "",
) -> tuple[str, ...]:
    """Change some fields of a place; all or nothing, each with its line in the history; return those lines.

    What may be done there is judged again by the worker, and jobs there are reckoned again where the labour
    hangs on it. ``seen`` is the print of the place as whoever changes it saw it.

    Raises:
        Stranger: the account is not the owner's.
        Refused: a value will not do.
        Stale: the place was changed meanwhile.
    """
    access.owner(by)
    if found := place_bounds.faults(new):
        raise Refused(next(iter(found.values())))
    Place.objects.select_for_update().get(pk=place.pk)
    before = Place.objects.get(pk=place.pk)
    stands = values(before)
    keeping.fresh(before.name, stands, seen)
    _keep_compass(before, new)
    changed = {n: v for n, v in _trimmed(new).items() if v != stands[n]}
    told = tuple(place_words.told(n, stands[n], v) for n, v in changed.items())
    _write(before, changed)
    for sentence in told:
        history.write(
            "set-place",
            f"place {before.key}",
            f"{before.name}: {sentence}.",
            by=by,
            why=why,
        )
    _again(before, set(changed))
    return told


@transaction.atomic
def add(
    new: Mapping[str, Any], hours: tuple[time, time] | None, *, by: Account
) -> Place:
    """Add a place by some of its fields, open between two times from Monday to Saturday; without them never.

    Raises:
        Stranger: the account is not the owner's.
        Refused: a value will not do, or a place of that name lies there already.
    """
    access.owner(by)
    plain = {name: value for name, value in new.items() if name != "is_base"}
    keeping.refuse(place_bounds.faults(plain))
    if Place.objects.filter(name__iexact=new["name"].strip()).exists():
        raise Refused(
            f"There is a place {new['name'].strip()} already. Choose it, or give this one another name."
        )
    place = Place.objects.create(
        key=keeping.new_key(new["name"], Place.objects.all()), **_trimmed(new)
    )
    if hours is not None:
        start, end = hours
        AccessHours.objects.bulk_create(
            AccessHours(place=place, weekday=day, start=start, end=end)
            for day in range(6)
        )
    history.write("set-place", f"place {place.key}", f"Added {place.name}.", by=by)
    due.put("take-in-forecast", place.key)
    return place


def near(latitude: float, longitude: float) -> Place | None:
    """The nearest place whose declination is known, within 100 km: it hardly differs there."""
    known = Place.objects.exclude(declination_deg=None)
    metres = {one: _apart(one, latitude, longitude) for one in known}
    nearest = min(metres, key=lambda one: metres[one], default=None)
    return nearest if nearest and metres[nearest] <= _SAME_COMPASS_M else None


def _apart(place: Place, latitude: float, longitude: float) -> float:
    """Metres between a place and a point, on a flat chart: near enough to compare."""
    north = (latitude - place.latitude) * _DEGREE_M
    east = (longitude - place.longitude) * _DEGREE_M * math.cos(math.radians(latitude))
    return math.hypot(north, east)


def _closures(place: Place) -> QuerySet[Closure]:
    """Those that are not over; what is gone by stays as it was."""
    ahead = place.closures.filter(end__gt=clock.now())
    return ahead.order_by("start", "pk")


def _read_by_compass(place: Place) -> QuerySet[Boat]:
    magnetic = Boat.HeadingReference.MAGNETIC
    return place.boats.filter(heading_reference=magnetic, heading_deg__isnull=False)


def _keep_compass(place: Place, new: Mapping[str, Any]) -> None:
    """Refuse to forget the declination where headings were read by compass."""
    forgets = "declination_deg" in new and new["declination_deg"] is None
    boat = _read_by_compass(place).first() if forgets else None
    if boat is not None:
        raise Refused(
            f"{boat.name} was read by compass here, so the declination is needed. Enter it."
        )


def _trimmed(new: Mapping[str, Any]) -> dict[str, Any]:
    return {n: v.strip() if isinstance(v, str) else v for n, v in new.items()}


def _write(place: Place, changed: Mapping[str, Any]) -> None:
    plain = {name: value for name, value in changed.items() if name in PLAIN}
    if plain:
        Place.objects.filter(pk=place.pk).update(**plain)
    if "hours" in changed:
        place.access_hours.all().delete()
        AccessHours.objects.bulk_create(
            AccessHours(place=place, weekday=day, start=start, end=end)
            for day, start, end in changed["hours"]
        )
    if "closures" in changed:
        _closures(place).delete()
        Closure.objects.bulk_create(
            Closure(place=place, **row) for row in changed["closures"]
        )


def _again(place: Place, changed: set[str]) -> None:
    """Have what hangs on the change judged and reckoned anew."""
    if not changed - _NO_SKY:
        return
    place.refresh_from_db()
    if "declination_deg" in changed:
        for boat in _read_by_compass(place):
            turns.heads(boat)
    rows = list(facts.open_stages().filter(job__boat__place=place))
    rejudging.again(rows, f"{place.name} was changed")
    for job in turns.turnable(place):
        turns.aim(job)
    due.put("reckon-film", place.key)
    if changed & _LABOUR:
        for key in dict.fromkeys(row.job.key for row in rows):
            due.put("refigure-job", key)
