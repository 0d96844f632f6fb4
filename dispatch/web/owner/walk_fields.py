"""What a walk-round asks: each field under its part's name, and which of them count by what is known already."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from dispatch.actions import (
    boats,
    customers,
    place_entries,
    place_words,
    term_entries,
    terms,
)
from dispatch.actions.entries import Entry
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Boat, Place
from dispatch.web.owner import where
from dispatch.web.owner.form import Groups

_BOAT = (
    "name",
    "length_m",
    "make",
    "shape",
    "hull_colour",
    "dark",
    "on_trailer",
    "berth",
)
_LIES = ("heading_deg", "heading_reference")
_JOB_LATER = (
    "promise",
    "promised_from",
    "promised_by",
    "unfinished_cents",
    "late_cents_per_hour",
)
_ROSE = "off a chart: 15° west is -15; empty, that of the nearest place"
_DEGREES = Unit(text="°")


def groups() -> Groups:
    """Every field in the order one walks: whose, what, where, what to do."""
    known = tuple((key, name) for key, name in Boat.objects.values_list("key", "name"))
    boat = Entry(
        name="boat",
        label="Boat in the book",
        kind="pick",
        choices=known,
        may_lack=True,
        hint="none for a new one",
    )
    return (
        ("The boat", (*((boat,) if known else ()), *_boat(), *_lies())),
        ("Her customer", _customer()),
        ("Where she lies", (*_place(), *_near())),
        ("What there is to do", _job()),
    )


def asked(sent: Mapping[str, str]) -> tuple[Entry, ...]:
    """The fields that count: those of a new customer, place or boat only where none in the book was chosen."""
    skipped = ["boat.", "customer", "place"] if sent.get("boat") else []
    skipped += [f"{part}." for part in ("customer", "place") if sent.get(part)]
    return tuple(
        entry
        for _, rows in groups()
        for entry in rows
        if not entry.name.startswith(tuple(skipped))
    )


def parts(values: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """Values by their part: ``customer``, ``boat``, ``lies``, ``place``, ``near`` and ``job``."""
    found: dict[str, dict[str, Any]] = {
        name: {} for name in ("customer", "boat", "lies", "place", "near", "job")
    }
    for name, value in values.items():
        part, dot, own = name.partition(".")
        if dot:
            found[part][own] = value
    return found


def blank() -> dict[str, Any]:
    """What the fields begin with."""
    of = {
        "customer": customers.blank(),
        "boat": boats.blank(),
        "lies": {"heading_reference": Boat.HeadingReference.MAGNETIC.value},
        "place": {
            "water": True,
            "power": True,
            "spray_rule": Place.SprayRule.OPEN.value,
        },
        "job": terms.blank() | {"price_cents": None},
    }
    rows = {
        f"{part}.{name}": v for part, given in of.items() for name, v in given.items()
    }
    return rows | {"promise_days": False}


def zone() -> str:
    """The time zone of a new place: the outfit's."""
    return str(customers.blank()["time_zone"])


def _under(part: str, rows: tuple[Entry, ...]) -> tuple[Entry, ...]:
    return tuple(replace(entry, name=f"{part}.{entry.name}") for entry in rows)


def _boat() -> tuple[Entry, ...]:
    rows = {entry.name: entry for entry in boats.entered()}
    return _under("boat", tuple(rows[name] for name in _BOAT))


def _lies() -> tuple[Entry, ...]:
    rows = {entry.name: entry for entry in boats.entered()}
    return _under("lies", tuple(rows[name] for name in _LIES))


def _customer() -> tuple[Entry, ...]:
    rows = {entry.name: entry for entry in boats.entered()}
    known = replace(
        rows["customer"],
        label="Customer in the book",
        may_lack=True,
        hint="none for a new one",
    )
    asks = tuple(e for e in customers.entries() if e.name != "time_zone")
    first = not rows["customer"].choices
    return (*(() if first else (known,)), *_under("customer", asks))


def _place() -> tuple[Entry, ...]:
    rows = {entry.name: entry for entry in boats.entered()}
    known = replace(
        rows["place"],
        label="Place in the book",
        may_lack=True,
        hint="none for a new one",
    )
    rules = tuple((str(k), str(v)) for k, v in Place.SprayRule.choices)
    return (
        known,
        *_under(
            "place",
            (
                Entry(name="name", label="Name of the place"),
                Entry(name="address", label="Address", longest=200, may_lack=True),
                replace(place_entries.number("latitude"), hint=where.HINT),
                place_entries.number("longitude"),
                replace(place_entries.number("declination_deg"), hint=_ROSE),
                Entry(name="water", label="Water there", kind="tick"),
                Entry(name="power", label="Power there", kind="tick"),
                Entry(name="spray_rule", label="Spraying", kind="pick", choices=rules),
            ),
        ),
    )


def _near() -> tuple[Entry, ...]:
    far = place_words.unit("distance_m")
    return _under(
        "near",
        (
            Entry(
                name="what",
                label="A neighbour that spray must not reach",
                may_lack=True,
                hint="a car, a boat, a well",
            ),
            Entry(
                name="bearing_deg",
                label="Its bearing from her, true",
                kind="number",
                unit=_DEGREES,
                most=359.999,
                may_lack=True,
            ),
            Entry(
                name="distance_m",
                label="How far off",
                kind="number",
                unit=far,
                most=500,
                may_lack=True,
            ),
        ),
    )


def _job() -> tuple[Entry, ...]:
    rows = (*term_entries.promised(zone()), *term_entries.money())
    asks = term_entries.unpriced(e for e in rows if e.name not in _JOB_LATER)
    days = Entry(
        name="promise_days", label="Promise the days that are reckoned", kind="tick"
    )
    return (*_under("job", (term_entries.kind(), *term_entries.work(), *asks)), days)
