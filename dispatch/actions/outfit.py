"""The outfit's own particulars: what it is called, which clock it keeps, in which units it reads."""

from collections.abc import Mapping
from zoneinfo import available_timezones

from django.db import transaction

from dispatch.actions import access, due, history
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit

FIELDS: Mapping[str, str] = {
    "name": "Name",
    "town": "Town",
    "time_zone": "Time zone",
    "units": "Units",
}


def faults(values: Mapping[str, str]) -> dict[str, str]:
    """What is wrong with new particulars, a sentence by field; empty where nothing is."""
    return {n: said for n, value in values.items() if (said := _fault(n, value))}


@transaction.atomic
def change(values: Mapping[str, str], *, by: Account, why: str = "") -> None:
    """Set some of the outfit's particulars; all or nothing, each with its line in the history.

    Raises:
        Refused: there is no outfit, or a value will not do.
        Stranger: the account is not the owner's.
    """
    access.owner(by)
    outfit = Outfit.objects.select_for_update().first()
    if outfit is None:
        raise Refused("There is no outfit yet. Load the demo, or enter yours.")
    if found := faults(values):
        raise Refused(next(iter(found.values())))
    for name, value in values.items():
        before, kept = getattr(outfit, name), value.strip()
        if before != kept:
            Outfit.objects.filter(pk=outfit.pk).update(**{name: kept})
            sentence = f"{FIELDS[name]} of the outfit, from {before or 'nothing'} to {kept or 'nothing'}."
            history.write("set", f"outfit {name}", sentence, by=by, why=why)
            if name == "units":
                # What stands against a stage is stored in words.
                due.put("judge-book", "all")


def _fault(name: str, value: str) -> str:
    kept = value.strip()
    if name == "name" and not 1 <= len(kept) <= 120:
        return "The outfit needs a name, of at most 120 characters."
    if name == "town" and len(kept) > 80:
        return "Keep the town under 80 characters."
    if name == "time_zone" and kept not in available_timezones():
        return f"There is no time zone {kept[:60]}. Write it as America/New_York."
    if name == "units" and kept not in Outfit.Units.values:
        return "Units are us or metric. Choose one."
    return "" if name in FIELDS else f"The outfit has no {name}."
