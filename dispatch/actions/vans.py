"""Vans: seats, what they carry and may tow, what they cost; new ones, and those that are gone."""

from collections.abc import Iterable, Mapping
from datetime import time
from typing import Any

from django.db import transaction

from dispatch.actions import access, entries, history, keeping
from dispatch.actions.entries import DOLLARS, Entry
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Account, Place, Van
from dispatch.trade.units import US_FL_OZ_ML

_LB_KG, _MILE_KM = 0.45359237, 1.609344
_GALLON_L = US_FL_OZ_ML * 128 / 1000
# What a new van's page begins with: a guess for the owner to change.
_OUT, _BACK = time(6, 30), time(19)


def weight() -> Unit:
    """The unit weights are read and written in."""
    us = entries.system() == "us"
    return Unit(text="lb", scale=1 / _LB_KG, places=0) if us else Unit(text="kg")


def entered() -> tuple[Entry, ...]:
    """What is entered of a van."""
    us = entries.system() == "us"
    water = Unit(text="gal", scale=1 / _GALLON_L) if us else Unit(text="l")
    far = Unit(
        text="$ a mile" if us else "$ a km",
        scale=0.01 * (_MILE_KM if us else 1),
        places=2,
    )
    bases = tuple(Place.objects.filter(is_base=True).values_list("key", "name"))
    return (
        Entry(name="name", label="Name"),
        Entry(
            name="base",
            label="Base",
            kind="pick",
            choices=bases,
            hint="" if bases else "add a place the vans start from first",
        ),
        Entry(name="seats", label="Seats", kind="whole", least=1, most=15),
        Entry(
            name="tow_rating_kg",
            label="May tow",
            kind="number",
            unit=weight(),
            most=20_000,
            hint="0 where it may not",
        ),
        Entry(
            name="gear",
            label="Always aboard",
            longest=400,
            may_lack=True,
            hint="names with commas between; work asks for washer, polisher, little gun",
        ),
        Entry(
            name="water_l",
            label="Water tank",
            kind="number",
            unit=water,
            most=5000,
            hint="0 where it has none",
        ),
        Entry(name="duty_start", label="Out from", kind="time"),
        Entry(name="duty_end", label="Back by", kind="time"),
        Entry(
            name="cents_per_day",
            label="A day costs",
            kind="whole",
            unit=DOLLARS,
            most=1_000_000,
        ),
        Entry(
            name="cents_per_km",
            label="Driving costs",
            kind="number",
            unit=far,
            most=100_000,
        ),
        Entry(name="active", label="In use", kind="tick"),
    )


def blank() -> dict[str, Any]:
    """What a new van begins with."""
    base = Place.objects.filter(is_base=True).values_list("key", flat=True).first()
    given: dict[str, Any] = {
        "base": base,
        "seats": 3,
        "tow_rating_kg": 0,
        "water_l": 0,
        "active": True,
    }
    given |= {"duty_start": _OUT, "duty_end": _BACK}
    costs = {"cents_per_day": 4500, "cents_per_km": 45, "gear": "hand tools"}
    return {entry.name: None for entry in entered()} | given | costs


def values(van: Van) -> dict[str, Any]:
    """A van's values by name."""
    named = (e.name for e in entered() if e.name not in ("base", "gear", "water_l"))
    found = {name: getattr(van, name) for name in named}
    aboard = ", ".join(gear_words(van.gear))
    rest = {"gear": aboard, "water_l": van.carries.get("water_l", 0)}
    return found | rest | {"base": van.base.key}


def gear_words(names: Iterable[str]) -> list[str]:
    """Names of gear as people say them; they are kept with a hyphen for each space."""
    return [name.replace("-", " ") for name in names]


def faults(new: Mapping[str, Any]) -> dict[str, str]:
    """What does not go together, a sentence by name."""
    start, end = new.get("duty_start"), new.get("duty_end")
    late = start and end and end <= start
    return (
        {"duty_end": "It is back after it went out. Check both times."} if late else {}
    )


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Van:
    """Add a van.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
    """
    access.owner(by)
    keeping.refuse(faults(new))
    key = keeping.new_key(new["name"], Van.objects.all())
    van = Van.objects.create(key=key, carries=_carries({}, new), **_van(new))
    history.write("add-van", f"van {van.key}", f"Added {van.name}.", by=by)
    return van


@transaction.atomic
def change(
    van: Van, new: Mapping[str, Any], *, by: Account, why: str = "", seen: str = ""
) -> tuple[str, ...]:
    """Change some of a van's values; return what was changed, in words. Posted days are not moved.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
        Stale: it was changed meanwhile.
    """
    access.owner(by)
    stood = (
        Van.objects.select_for_update(of=("self",))
        .select_related("base")
        .get(pk=van.pk)
    )
    before = values(stood)
    keeping.fresh(stood.name, before, seen)
    keeping.refuse(faults(before | dict(new)))
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    carries = _carries(stood.carries, before | changed)
    Van.objects.filter(pk=stood.pk).update(carries=carries, **_van(changed))
    told = keeping.told(entered(), before, changed)
    keeping.write("set-van", (f"van {stood.key}", stood.name), told, by=by, why=why)
    return told


def _van(new: Mapping[str, Any]) -> dict[str, Any]:
    """Values as the table takes them."""
    found = {name: value for name, value in new.items() if name != "water_l"}
    if "base" in found:
        found["base"] = Place.objects.get(key=found["base"])
    if "gear" in found:
        names = (one for one in (found["gear"] or "").split(",") if one.strip())
        found["gear"] = list(dict.fromkeys(map(keeping.slug, names)))
    return found


def _carries(before: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, Any]:
    rest = {name: value for name, value in before.items() if name != "water_l"}
    litres = new["water_l"]
    return rest | ({"water_l": litres} if litres else {})
