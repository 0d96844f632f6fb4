"""Products by their data sheets: what the maker asks, entered as it is printed there."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from dispatch.actions import access, due, entries, history, keeping, setting_units
from dispatch.actions.entries import DOLLARS, Entry
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Account, Sheet
from dispatch.trade import units

_REF = Unit(text="h at 70 °F")
# Field, words, least and most in SI; True where the sheet may not say.
_NUMBERS: tuple[tuple[str, str, float, float, bool], ...] = (
    ("air_min_c", "Air, at least", -20, 60, False),
    ("air_max_c", "Air, at most", -20, 60, False),
    ("surface_min_c", "Surface, at least", -20, 80, False),
    ("surface_max_c", "Surface, at most", -20, 80, False),
    ("rh_min_pct", "Humidity, at least", 0, 100, True),
    ("rh_max_pct", "Humidity, at most", 1, 100, False),
    ("spread_min_k", "Surface over the dew point by", 0, 20, False),
    ("cure_min_c", "Does not cure below", -20, 60, False),
    ("wind_max_ms", "Wind, at most", 0, 40, False),
    ("gust_max_ms", "Gusts, at most", 0, 40, False),
    ("screened_wind_max_ms", "Wind behind side-screens", 0, 40, True),
    ("screened_gust_max_ms", "Gusts behind side-screens", 0, 40, True),
)
_HOURS: tuple[tuple[str, str], ...] = (
    ("recoat_latest_ref_h", "Second coat at the latest after"),
    ("rain_safe_ref_h", "Rain-safe after"),
    ("sandable_ref_h", "May be sanded after"),
    ("pot_life_ref_h", "Pot life"),
)
_PAIRS = (
    ("air_min_c", "air_max_c"),
    ("surface_min_c", "surface_max_c"),
    ("wind_max_ms", "gust_max_ms"),
)


def entered() -> tuple[Entry, ...]:
    """What is entered of a product, in the outfit's units."""
    us = entries.system() == "us"
    volume = Unit(text="oz", scale=1 / units.US_FL_OZ_ML) if us else Unit(text="ml")
    film = Unit(text="mil", scale=1 / units.MIL_UM, places=2) if us else Unit(text="µm")
    kinds = tuple((str(k), str(v)) for k, v in Sheet.Kind.choices)
    return (
        Entry(name="name", label="Name"),
        Entry(name="kind", label="Kind", kind="pick", choices=kinds),
        Entry(name="pack_ml", label="A can holds", kind="number", unit=volume, least=1, most=200_000),
        Entry(name="pack_cents", label="A can costs", kind="whole", unit=DOLLARS, most=10_000_000),
        *(_number(*row) for row in _NUMBERS),
        Entry(name="flash_ref_minutes", label="Between coats at 70 °F", kind="number", unit=Unit(text="min"), least=0, most=1440),
        *(Entry(name=n, label=w, kind="number", unit=_REF, least=0.01, most=2000, may_lack=True) for n, w in _HOURS),
        Entry(name="solids_pct", label="Solids by volume", kind="number", unit=Unit(text="%"), least=1, most=100, may_lack=True),
        Entry(name="dry_um", label="Dry film asked of one coat", kind="number", unit=film, least=1, most=5000, may_lack=True),
        Entry(name="opened_shelf_days", label="Keeps once opened", kind="whole", unit=Unit(text="days"), least=1, most=3650, may_lack=True),
        Entry(name="people", label="What people wear and keep to", longest=200, may_lack=True, hint="as its sheet says"),
    )  # fmt: skip


def blank() -> dict[str, Any]:
    """A new product begins empty: every limit is the maker's to set."""
    return {entry.name: None for entry in entered()}


def values(sheet: Sheet) -> dict[str, Any]:
    """A product's values by name."""
    return keeping.stands(sheet, entered())


def faults(new: Mapping[str, Any]) -> dict[str, str]:
    """What is the wrong way round, a sentence by name."""
    return {
        high: "The most lies below the least. Check both."
        for low, high in _PAIRS
        if new.get(low) is not None
        and new.get(high) is not None
        and (new[high] < new[low] or (new[high] == new[low] and low.endswith("_c")))
    }


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Sheet:
    """Add a product.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
    """
    access.owner(by)
    keeping.refuse(faults(new))
    key = keeping.new_key(new["name"], Sheet.objects.all())
    sheet = Sheet.objects.create(key=key, **new)
    history.write("add-product", f"product {sheet.key}", f"Added {sheet.name}.", by=by)
    return sheet


@transaction.atomic
def change(
    sheet: Sheet, new: Mapping[str, Any], *, by: Account, why: str = "", seen: str = ""
) -> tuple[str, ...]:
    """Change some of a product's values; the book is judged and film reckoned again. Return what was changed.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
        Stale: it was changed meanwhile.
    """
    access.owner(by)
    stood = Sheet.objects.select_for_update().get(pk=sheet.pk)
    before = values(stood)
    keeping.fresh(stood.name, before, seen)
    keeping.refuse(faults(before | dict(new)))
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    Sheet.objects.filter(pk=stood.pk).update(**changed)
    told = keeping.told(entered(), before, changed)
    keeping.write(
        "set-product", (f"product {stood.key}", stood.name), told, by=by, why=why
    )
    due.put("judge-book", "all")
    for key in stood.stages.values_list("job__boat__place__key", flat=True).distinct():
        due.put("reckon-film", key)
    return told


def _number(name: str, words: str, least: float, most: float, may_lack: bool) -> Entry:  # noqa: FBT001 - a row of the table above
    unit = setting_units.unit(name, entries.system())
    return Entry(
        name=name,
        label=words,
        kind="number",
        unit=unit,
        least=least,
        most=most,
        may_lack=may_lack,
    )
