"""Film that rain or dew reaches while it is wet: cover her, by when, and which roof can be there."""

import math
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from django.db.models import Q

from dispatch.actions import film_threat, snapshot_air
from dispatch.actions.board import BoatRow, EquipmentLine, Snag
from dispatch.actions.board_reading import Reading, Row
from dispatch.actions.board_words import lasting, when
from dispatch.actions.film_threat import Threat
from dispatch.records.models import Equipment, Hold, Place, Stage

# An assumption: a cover that is pulled over in the first drops comes too late.
_BEFORE = timedelta(minutes=15)


def snags(
    reading: Reading, boats: Sequence[BoatRow], equipment: Sequence[EquipmentLine]
) -> Iterator[Snag]:
    """A snag for each boat whose wet film is threatened, the heaviest of all: what is laid cannot be laid again."""
    for row in boats:
        found = film_threat.threats(reading, row, reading.now)
        if found:
            first = min(found, key=lambda one: one.at)
            yield _snag(reading, row, first, _mend(reading, row, first, equipment))


def _snag(reading: Reading, row: BoatRow, threat: Threat, mend: str) -> Snag:
    zone = reading.line.zone
    safe = (
        f"rain-safe about {when(threat.safe, zone)}"
        if threat.safe
        else "not rain-safe by this forecast"
    )
    return Snag(
        weight=101,
        subject=row.boat,
        sentence=f"Her film is wet and {safe}; {threat.what} comes {when(threat.at, zone)}.",
        mend=mend,
        setting="sky",
    )


def _mend(
    reading: Reading,
    row: BoatRow,
    threat: Threat,
    equipment: Sequence[EquipmentLine],
) -> str:
    """By when she is to be covered, and the roof that stands over her soonest."""
    by = threat.at - _BEFORE
    late = by <= reading.now
    cover = "Cover her now" if late else f"Cover her by {when(by, reading.line.zone)}"
    roofs = sorted(_roofs(reading, film_threat.place(reading, row), equipment))
    if not roofs:
        return f"{cover}: no roof of the outfit is free, so with what can be had."
    minutes, name, where = roofs[0]
    ready = reading.now + timedelta(minutes=minutes)
    stands = f"{name}, now at {where}, can stand over her in {lasting(minutes)}"
    if ready > threat.at:
        return f"{cover}: {stands}, which is after the {threat.what.split()[0]}; cover her with what can be had till then."
    return f"{cover}: {stands}."


def _roofs(
    reading: Reading, place: Place, equipment: Sequence[EquipmentLine]
) -> Iterator[tuple[int, str, str]]:
    """Minutes until each free roof stands at a place, its name, and where it is now."""
    roofs = Equipment.objects.filter(active=True, roof=True).in_bulk(field_name="key")
    rows = {
        row["id"]: row
        for row in snapshot_air.real(reading.problem.get("trailers", ()))
        if row["id"] in roofs
    }
    for line in equipment:
        where = _now_at(reading, line)
        if line.key in rows and where is not None and not _covers(where, reading.now):
            minutes = _minutes(reading, rows[line.key], where.key, place.key)
            if minutes is not None:
                yield minutes, line.name, where.name


def _now_at(reading: Reading, line: EquipmentLine) -> Place | None:
    """Where a piece of equipment stands now; None while it is under way."""
    for stand in line.stands:
        if stand.span.holds(reading.now) and not stand.moving:
            places = reading.places.values()
            return next((one for one in places if one.name == stand.place), None)
    return None


def _covers(place: Place, now: datetime) -> bool:
    """Whether film that was laid at a place under a roof needs it still."""
    needs = Q(end__gt=now) | Q(end__isnull=True)
    return Hold.objects.filter(
        needs,
        kind=Hold.Kind.RAIN_SAFE,
        planned=False,
        stage__cover=Stage.Cover.ROOF,
        stage__job__boat__place=place,
    ).exists()


def _minutes(reading: Reading, row: Row, origin: str, to: str) -> int | None:
    """Minutes to take a roof down, drive it and put it up; to put it up alone where it stands there already."""
    if origin == to:
        return int(row["unhook_min"])
    names = [place["id"] for place in reading.problem["places"]]
    if origin not in names or to not in names:
        return None
    drive = reading.problem["drive_min"][names.index(origin)][names.index(to)]
    towed = math.ceil(drive * row["factor_pct"] / 100)
    return int(row["hook_min"] + towed + row["unhook_min"])
