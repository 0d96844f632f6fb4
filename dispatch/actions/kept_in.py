"""Where cans are kept: in a van or at a place, in words; and where a van's day finds what it is to lay."""

from collections.abc import Mapping
from typing import Any

from dispatch.actions.stores import keeps
from dispatch.records.models import Can, Place, Sheet, Van, VanDay
from dispatch.trade.words import Words

_VAN, _PLACE = "van", "place"
_UNKNOWN = "nobody entered where"
_A_DROP_ML = 0.05


def choices() -> tuple[tuple[str, str], ...]:
    """Every van and place cans may be kept in, by one word each; bases come before other places."""
    vans = Van.objects.filter(active=True).values_list("key", "name")
    places = Place.objects.order_by("-is_base", "name").values_list("key", "name")
    return (
        *((f"{_VAN}:{key}", f"van {name}") for key, name in vans),
        *((f"{_PLACE}:{key}", name) for key, name in places),
    )


def of(can: Can) -> str | None:
    """Where cans are kept, by the word of its choice."""
    if can.van:
        return f"{_VAN}:{can.van.key}"
    return f"{_PLACE}:{can.place.key}" if can.place else None


def row(chosen: str | None) -> dict[str, Any]:
    """The columns of a choice."""
    kind, _, key = (chosen or "").partition(":")
    return {
        "van": Van.objects.get(key=key) if kind == _VAN else None,
        "place": Place.objects.get(key=key) if kind == _PLACE else None,
    }


def said(can: Can) -> str:
    """Where cans are kept, in words; what nobody entered is said to be so."""
    if can.van:
        return f"van {can.van.name}"
    return can.place.name if can.place else _UNKNOWN


def line(sheet: Sheet, van_day: VanDay, need_ml: float, words: Words) -> str:
    """Where a van finds a product for its day: what is in it already first, then at its base, then elsewhere."""
    found = _by_where(sheet, van_day)
    lacks = need_ml - sum(found.values())
    told = [f"{words.volume(ml)} {where}" for where, ml in found.items()]
    if lacks > _A_DROP_ML:
        told.append(f"{words.volume(lacks)} not in store: ask the owner")
    elif not told:
        told.append("none in store: ask the owner")
    return f"Cans that keep: {'; '.join(told)}"


def _by_where(sheet: Sheet, van_day: VanDay) -> Mapping[str, float]:
    """Millilitres that keep on the day by where they are, the nearest first."""
    found: dict[str, float] = {}
    cans = sheet.cans.select_related("van", "place")
    good = [can for can in cans if can.left_ml and keeps(can, sheet, van_day.on)]
    for can in sorted(good, key=lambda one: _far(one, van_day)):
        where = _there(can, van_day)
        found[where] = found.get(where, 0.0) + can.left_ml * can.count
    return found


def _far(can: Can, van_day: VanDay) -> tuple[bool, ...]:
    here = can.van_id == van_day.van_id
    return not here, can.place_id != van_day.van.base_id, not can.van, not can.place


def _there(can: Can, van_day: VanDay) -> str:
    if can.van_id == van_day.van_id:
        return "in this van"
    if can.van:
        return f"in van {can.van.name}"
    return f"at {can.place.name}" if can.place else "at a place nobody entered"
