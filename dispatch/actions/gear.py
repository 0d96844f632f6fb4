"""Trailers and canopies: what each brings, what it weighs, where it stands; new ones, and those that are gone."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django.db import transaction

from dispatch.actions import (
    access,
    clock,
    entries,
    facts,
    history,
    keeping,
    rejudging,
    setting_units,
    vans,
)
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Account, Equipment, Place, Stage, Standing
from dispatch.trade.units import MPH_MS

# No maker lets a roof down in a light breeze, and none lets it stand in a storm.
_LEAST_GUST_MS, _MOST_GUST_MS = 5 * MPH_MS, 90 * MPH_MS
# What of a roof decides on the hours of the work beneath it.
_OF_ROOFS = {"kind", "roof", "active", "down_gust_ms"}


def _places() -> tuple[tuple[str, str], ...]:
    return tuple(Place.objects.values_list("key", "name"))


def entered() -> tuple[Entry, ...]:
    """What is entered of a trailer or a canopy."""
    minutes = Unit(text="min")
    speed = setting_units.unit("down_gust_ms", entries.system())
    return (
        Entry(name="name", label="Name"),
        Entry(
            name="kind",
            label="Kind",
            longest=40,
            hint="as spray trailer or canopy",
        ),
        Entry(
            name="weight_kg",
            label="Weight",
            kind="number",
            unit=vans.weight(),
            most=20_000,
        ),
        Entry(name="towed", label="Towed, not carried", kind="tick"),
        Entry(
            name="take_minutes",
            label="To hook up or strike",
            kind="whole",
            unit=minutes,
            most=600,
        ),
        Entry(
            name="set_minutes",
            label="To unhook or pitch",
            kind="whole",
            unit=minutes,
            most=600,
        ),
        Entry(
            name="drive_factor_pct",
            label="Driving with it takes",
            kind="whole",
            unit=Unit(text="%"),
            least=100,
            most=300,
            hint="100 as without it",
        ),
        Entry(name="stands", label="Stands at", kind="pick", choices=_places()),
        Entry(name="active", label="In use", kind="tick"),
        Entry(name="screens", label="Brings side-screens", kind="tick"),
        Entry(name="roof", label="Keeps rain and dew off", kind="tick"),
        Entry(
            name="down_gust_ms",
            label="Gust at which a roof must be down",
            kind="number",
            unit=replace(speed, places=1),
            least=_LEAST_GUST_MS,
            most=_MOST_GUST_MS,
            may_lack=True,
            hint="its maker says it; while it is empty no gust takes it down",
        ),
    )


def blank() -> dict[str, Any]:
    """What a new trailer or canopy begins with."""
    given = {"towed": True, "screens": False, "roof": False, "active": True}
    rest = {"take_minutes": 15, "set_minutes": 15, "drive_factor_pct": 120}
    return {e.name: None for e in entered()} | given | rest | {"weight_kg": 0}


def values(thing: Equipment) -> dict[str, Any]:
    """A trailer's or canopy's values by name; it stands where it was last put, empty where nobody knows."""
    named = (entry.name for entry in entered() if entry.name != "stands")
    last = thing.standings.filter(since__lte=clock.now()).select_related("place").last()
    return {name: getattr(thing, name) for name in named} | {
        "kind": vans.gear_words([thing.kind])[0],
        "stands": last.place.key if last else None,
    }


def brings(thing: Equipment) -> str:
    """What it keeps off, in words, and the gust its roof must be down at."""
    found = ["side-screens"] if thing.screens else []
    if thing.roof:
        gust = {entry.name: entry for entry in entered()}["down_gust_ms"]
        down = thing.down_gust_ms
        said = f"down by a gust of {gust.said(down)}" if down else "its gust not known"
        found.append(f"a roof, {said}")
    return ", ".join(found) or "neither screens nor roof"


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Equipment:
    """Add a trailer or a canopy.

    Raises:
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    key = keeping.new_key(new["name"], Equipment.objects.all())
    thing = Equipment.objects.create(key=key, **_gear(new))
    _stand(thing, new["stands"])
    if thing.roof:
        _judge_roofed(f"{thing.name} is new")
    history.write("add-gear", f"gear {thing.key}", f"Added {thing.name}.", by=by)
    return thing


@transaction.atomic
def change(
    thing: Equipment,
    new: Mapping[str, Any],
    *,
    by: Account,
    why: str = "",
    seen: str = "",
) -> tuple[str, ...]:
    """Change some of a trailer's or canopy's values; where it stands is kept from now on. Return what changed.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is on a posted tow ahead and would be retired.
        Stale: it was changed meanwhile.
    """
    access.owner(by)
    stood = Equipment.objects.select_for_update().get(pk=thing.pk)
    before = values(stood)
    keeping.fresh(stood.name, before, seen)
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    if changed.get("active") is False:
        _not_towed(stood)
    plain = _gear(changed)
    if plain:
        Equipment.objects.filter(pk=stood.pk).update(**plain)
    if "stands" in changed:
        _stand(stood, changed["stands"])
    if not _OF_ROOFS.isdisjoint(changed):
        _judge_roofed(f"{stood.name} was changed")
    told = keeping.told(entered(), before, changed)
    keeping.write("set-gear", (f"gear {stood.key}", stood.name), told, by=by, why=why)
    return told


def _gear(new: Mapping[str, Any]) -> dict[str, Any]:
    found = {name: value for name, value in new.items() if name != "stands"}
    if "kind" in found:
        found["kind"] = keeping.slug(found["kind"])
    return found


def _stand(thing: Equipment, place: str) -> None:
    Standing.objects.update_or_create(
        equipment=thing,
        since=clock.now(),
        defaults={"place": Place.objects.get(key=place)},
    )


def _judge_roofed(why: str) -> None:
    """Have the work under a roof judged anew: when it may be done hangs on the gust at which a roof must be down."""
    rejudging.again(list(facts.open_stages().filter(cover=Stage.Cover.ROOF)), why)


def _not_towed(thing: Equipment) -> None:
    if thing.tows.filter(end__gt=clock.now()).exists():
        raise Refused(
            f"{thing.name} is towed in a posted week. Build that week again without it first."
        )
