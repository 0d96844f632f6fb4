"""Boats: what is known of her hull, whose she is, where and how she lies."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from dispatch.actions import (
    access,
    clock,
    due,
    entries,
    facts,
    history,
    keeping,
    lies,
    rates,
    rejudging,
    setting_units,
    turns,
)
from dispatch.actions.entries import Entry
from dispatch.records.models import Account, Boat, Customer, Place

_LIE = ("heading_deg", "heading_reference")
# These change what her jobs take; the others only when they may be done, or nothing.
_LABOUR = {"length_m", "freeboard_m", "shape"}
_SKY = {"dark"}


def entered() -> tuple[Entry, ...]:
    """What is entered of a boat, in the outfit's units."""
    metres = setting_units.unit("length_m", entries.system())
    shapes = rates.labour_rates().shapes
    return (
        Entry(name="name", label="Name"),
        Entry(name="customer", label="Customer", kind="pick", choices=_customers()),
        Entry(
            name="length_m",
            label="Length",
            kind="number",
            unit=metres,
            least=2.01,
            most=59.9,
        ),
        Entry(
            name="make",
            label="Make and model",
            may_lack=True,
        ),
        Entry(
            name="shape",
            label="Shape",
            kind="pick",
            choices=tuple((key, key.replace("-", " ")) for key in shapes),
        ),
        Entry(
            name="beam_m",
            label="Beam",
            kind="number",
            unit=metres,
            least=0.5,
            most=20,
            may_lack=True,
        ),
        Entry(
            name="freeboard_m",
            label="Freeboard",
            kind="number",
            unit=metres,
            least=0.2,
            most=8,
            may_lack=True,
            hint="left empty it is reckoned from her length",
        ),
        Entry(
            name="hull_colour",
            label="Hull colour",
            longest=30,
            may_lack=True,
        ),
        Entry(
            name="dark",
            label="Dark hull, which the sun heats",
            kind="tick",
        ),
        *_lies(),
        Entry(
            name="registration",
            label="Registration",
            longest=20,
            may_lack=True,
        ),
        Entry(
            name="hull_number",
            label="Hull identification number",
            longest=20,
            may_lack=True,
        ),
    )


def _lies() -> tuple[Entry, ...]:
    degrees = setting_units.Unit(text="°")
    return (
        Entry(name="place", label="Place", kind="pick", choices=_places()),
        Entry(name="berth", label="Berth", may_lack=True),
        Entry(
            name="heading_deg",
            label="Heading of her bow",
            kind="number",
            unit=degrees,
            most=359.999,
            may_lack=True,
        ),
        Entry(
            name="heading_reference",
            label="Heading is",
            kind="pick",
            choices=tuple((str(k), str(v)) for k, v in Boat.HeadingReference.choices),
        ),
        Entry(name="on_trailer", label="On a trailer", kind="tick"),
        Entry(
            name="turned_heading_deg",
            label="Turn her to, true",
            kind="number",
            unit=degrees,
            most=359.999,
            may_lack=True,
            hint="left empty the best heading is worked out",
        ),
    )


def blank() -> dict[str, Any]:
    """What a new boat begins with."""
    given = {
        "shape": "centre-console",
        "hull_colour": "white",
        "heading_reference": Boat.HeadingReference.TRUE.value,
        "dark": False,
        "on_trailer": False,
    }
    return {entry.name: None for entry in entered()} | given


def values(boat: Boat) -> dict[str, Any]:
    """A boat's values by name: her customer by number, her place by key."""
    return keeping.stands(boat, entered()) | {"customer": str(boat.customer_id)}


def faults(new: Mapping[str, Any]) -> dict[str, str]:
    """What does not go together, a sentence by name."""
    if (
        new.get("heading_deg") is None
        or new.get("heading_reference") != Boat.HeadingReference.MAGNETIC
    ):
        return {}
    place = Place.objects.filter(key=new.get("place")).first()
    if place is None or place.declination_deg is not None:
        return {}
    return {
        "heading_reference": f"{place.name} has no compass declination. Enter it with the place, or choose that the heading is true."
    }


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Boat:
    """Add a boat.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
    """
    access.owner(by)
    keeping.refuse(faults(new))
    row = _rows(new)
    here = clock.today(row["place"].time_zone)
    read_on = here if new.get("heading_deg") is not None else None
    boat = Boat.objects.create(
        key=keeping.new_key(new["name"], Boat.objects.all()),
        heading_read_on=read_on,
        **row,
    )
    sentence = f"Added {boat.name} of {boat.customer.name}, at {boat.place.name}."
    history.write("add-boat", f"boat {boat.key}", sentence, by=by)
    return boat


@transaction.atomic
def change(
    boat: Boat, new: Mapping[str, Any], *, by: Account, why: str = "", seen: str = ""
) -> tuple[str, ...]:
    """Change some of a boat's values; return what was changed, in words.

    Her open jobs are reckoned again where the labour hangs on it, and judged again where the sky does.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
        Stale: she was changed meanwhile.
    """
    access.owner(by)
    stood = Boat.objects.select_for_update().get(pk=boat.pk)
    before = values(stood)
    keeping.fresh(stood.name, before, seen)
    keeping.refuse(faults(before | dict(new)))
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    told = keeping.told(entered(), before, changed)
    plain = {name: value for name, value in changed.items() if name not in _LIE}
    if plain:
        Boat.objects.filter(pk=stood.pk).update(**_rows(plain))
    _lie(stood, before | changed, {*changed})
    keeping.write("set-boat", (f"boat {stood.key}", stood.name), told, by=by, why=why)
    _again(stood, set(changed))
    return told


def _rows(new: Mapping[str, Any]) -> dict[str, Any]:
    """Values as the table takes them: rows in place of keys, no None where it holds a text."""
    found = dict(new)
    if "customer" in found:
        found["customer"] = Customer.objects.get(pk=found["customer"])
    if "place" in found:
        found["place"] = Place.objects.get(key=found["place"])
    for name in ("registration", "hull_number"):
        if name in found:
            found[name] = (found[name] or "").upper()
    for name in ("make", "berth", "hull_colour"):
        if name in found:
            found[name] = found[name] or ""
    return found


def _lie(boat: Boat, stands: Mapping[str, Any], changed: set[str]) -> None:
    """Turn her stages' headings with her, where how she lies was changed."""
    boat.refresh_from_db()
    if {*_LIE} & changed and stands["heading_deg"] is not None:
        turns.lies(
            boat, stands["heading_deg"], stands["heading_reference"], clock.now()
        )
    elif {*_LIE} & changed:
        Boat.objects.filter(pk=boat.pk).update(
            heading_deg=None,
            heading_reference=stands["heading_reference"],
            heading_read_on=None,
        )
        boat.refresh_from_db()
        turns.heads(boat)
    elif "place" in changed:
        turns.heads(boat)


def _again(boat: Boat, changed: set[str]) -> None:
    """Have what hangs on the change judged and reckoned anew."""
    if changed & {"place", *_LIE}:
        lies.anew(boat, f"{boat.name} lies at {boat.place.name}")
    rows = list(facts.open_stages().filter(job__boat=boat))
    if changed & _SKY:
        rejudging.again(rows, f"{boat.name} was changed")
    if changed & _LABOUR:
        for key in dict.fromkeys(row.job.key for row in rows):
            due.put("refigure-job", key)
    if "turned_heading_deg" in changed:
        for job in turns.turnable(boat.place).filter(boat=boat):
            turns.aim(job)


def _customers() -> tuple[tuple[str, str], ...]:
    return tuple(
        (str(pk), name) for pk, name in Customer.objects.values_list("pk", "name")
    )


def _places() -> tuple[tuple[str, str], ...]:
    return tuple(Place.objects.values_list("key", "name"))
