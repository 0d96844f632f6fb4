"""Which roofs of the outfit can be over a boat whose film is wet, and in how many minutes each."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.db.models import Q

from dispatch.actions import board_lines, one_moment, show_estimate, snapshot_air
from dispatch.actions.board import EquipmentLine
from dispatch.actions.board_reading import Reading, Row
from dispatch.actions.struck import Keeper
from dispatch.records.models import Cover, Equipment, Hold, Place, Stage

# An assumption, common practice: two pairs of hands strike a roof and pitch it.
_HANDS = 2


@dataclass(frozen=True, kw_only=True, order=True)
class Roof:
    """A free roof: minutes until it stands over her, its key and name, where it is now, what that labour costs in cents.

    ``down_gust_ms`` is the gust at which it must be down, None where nobody told.
    """

    minutes: int
    key: str
    name: str
    where: str
    cents: int
    down_gust_ms: float | None = None

    @property
    def keeper(self) -> Keeper:
        """The roof as what is over wet film."""
        return Keeper(name=self.name, down_gust_ms=self.down_gust_ms)


def free(reading: Reading, place: Place) -> tuple[Roof, ...]:
    """The roofs that are over no wet film and stand somewhere now, the soonest over a boat at a place first."""
    things = Equipment.objects.filter(active=True, roof=True).in_bulk(field_name="key")
    rows = {
        row["id"]: row
        for row in snapshot_air.real(reading.problem.get("trailers", ()))
        if row["id"] in things
    }
    lines = [line for line in board_lines.equipment(reading) if line.key in rows]
    hour = one_moment.once("hour", show_estimate.cents_per_hour) if lines else 0.0
    found = sorted(_roofs(reading, place, (lines, rows), hour))
    return tuple(
        replace(one, down_gust_ms=things[one.key].down_gust_ms) for one in found
    )


def _roofs(
    reading: Reading,
    place: Place,
    given: tuple[list[EquipmentLine], dict[str, dict[str, Any]]],
    hour_cents: float,
) -> Iterator[Roof]:
    lines, rows = given
    for line in lines:
        where = _now_at(reading, line)
        if where is None or _covers(line.key, where, reading.now):
            continue
        minutes = _minutes(reading, rows[line.key], where.key, place.key)
        if minutes is not None:
            cents = round(_HANDS * minutes * hour_cents / 60)
            yield Roof(
                minutes=minutes,
                key=line.key,
                name=line.name,
                where=where.name,
                cents=cents,
            )


def _now_at(reading: Reading, line: EquipmentLine) -> Place | None:
    """Where a piece of equipment stands now; None while it is under way."""
    for stand in line.stands:
        if stand.span.holds(reading.now) and not stand.moving:
            places = reading.places.values()
            return next((one for one in places if one.name == stand.place), None)
    return None


def _covers(key: str, place: Place, now: datetime) -> bool:
    """Whether a roof is asked for elsewhere, or film that was laid under one at its place needs it still."""
    if Cover.objects.filter(equipment__key=key, off_at=None).exists():
        return True
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
