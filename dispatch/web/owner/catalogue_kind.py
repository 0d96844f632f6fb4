"""What a kind of job is called and costs, as entered."""

from collections.abc import Mapping
from typing import Any

from dispatch.actions import catalogue_bounds
from dispatch.records.models import JobKind

_PRICE = "Enter dollars, as 68 or 4.60, from 0 to {most:,.0f}."


def kind_values(kind: JobKind, sent: Mapping[str, str]) -> dict[str, Any]:
    """What was sent and differs; prices come in dollars. What is no number stays text, to be refused."""
    given: dict[str, Any] = {
        "name": sent.get("name", kind.name).strip(),
        "cents_per_ft": _cents(sent.get("per_ft", "")),
        "flat_cents": _cents(sent.get("flat", "")),
        "bumped_first": "bumped_first" in sent,
    }
    return {n: v for n, v in given.items() if v != getattr(kind, n)}


def kind_faults(values: Mapping[str, Any]) -> dict[str, str]:
    """What is wrong with new values, a sentence by field, prices in dollars as they are entered here."""
    return {
        name: _PRICE.format(most=catalogue_bounds.PRICES[name][3] / 100)
        if name in catalogue_bounds.PRICES
        else said
        for name, said in catalogue_bounds.kind_faults(values).items()
    }


def _cents(dollars: str) -> int | str:
    text = dollars.strip().removeprefix("$").replace(",", "")
    try:
        return round(float(text) * 100)
    except (ValueError, OverflowError):
        return dollars
