"""What a kind of job is called and costs, as entered."""

from collections.abc import Mapping
from typing import Any

from dispatch.actions import catalogue_bounds, entries
from dispatch.actions.per_length import PerLength
from dispatch.records.models import JobKind
from dispatch.web.owner import meanwhile
from dispatch.web.owner.meanwhile import WAS, Stands

_PRICE = "Enter dollars, as 68 or 4.60, from 0 to {most:,.0f}."


# The fields of the form, and what of the kind each holds.
FIELDS = {
    "name": "name",
    "per_ft": "cents_per_ft",
    "flat": "flat_cents",
    "bumped_first": "bumped_first",
}


def kind_stands(kind: JobKind, per: PerLength) -> dict[str, Stands]:
    """How each field of the form stands now."""
    per_ft = price_shown(kind.cents_per_ft, per)
    flat = f"{kind.flat_cents / 100:.2f}".removesuffix(".00")
    bumped = kind.bumped_first
    return {
        "name": Stands(shown=kind.name, said=meanwhile.quoted(kind.name)),
        "per_ft": Stands(shown=per_ft, said=f"${per_ft}"),
        "flat": Stands(shown=flat, said=f"${flat}"),
        "bumped_first": Stands(
            shown="on" if bumped else "", said="yes" if bumped else "no"
        ),
    }


def kind_values(
    kind: JobKind, sent: Mapping[str, str], per: PerLength
) -> dict[str, Any]:
    """What was sent and differs from what the form had shown; prices come in dollars. What is no number stays text, to be refused."""
    given: dict[str, Any] = {
        "name": sent.get("name", kind.name).strip(),
        "cents_per_ft": _per_ft(kind, sent.get("per_ft", ""), per),
        "flat_cents": _cents(sent.get("flat", "")),
        "bumped_first": "bumped_first" in sent,
    }
    left = {
        FIELDS[name]
        for name in FIELDS
        if sent.get(f"{WAS}{name}") == sent.get(name, "").strip()
    }
    return {n: v for n, v in given.items() if n not in left and v != getattr(kind, n)}


def kind_faults(values: Mapping[str, Any], per: PerLength) -> dict[str, str]:
    """What is wrong with new values, a sentence by field, prices in dollars as they are entered here."""
    return {
        name: _PRICE.format(most=_most(name, per))
        if name in catalogue_bounds.PRICES
        else said
        for name, said in catalogue_bounds.kind_faults(values).items()
    }


def _most(name: str, per: PerLength) -> float:
    most = catalogue_bounds.PRICES[name][3] / 100
    return per.shown(most) // 1 if name == "cents_per_ft" else most


def price_shown(cents_per_ft: int, per: PerLength) -> str:
    """A price by length as bare dollars."""
    return f"{per.shown(cents_per_ft) / 100:.2f}".removesuffix(".00")


def _per_ft(kind: JobKind, dollars: str, per: PerLength) -> int | str:
    """The price by the foot; what still reads as it was shown is what stands, however it was rounded."""
    if dollars.strip() == price_shown(kind.cents_per_ft, per):
        return kind.cents_per_ft
    cents = _cents(dollars)
    return cents if isinstance(cents, str) else round(per.stored(cents))


def _cents(dollars: str) -> int | str:
    text = entries.pointed(dollars.strip().removeprefix("$"))
    try:
        return round(float(text) * 100)
    except (ValueError, OverflowError):
        return dollars
