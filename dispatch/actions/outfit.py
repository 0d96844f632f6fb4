"""The outfit's own particulars: its name, clock and units, and what its invoices and its hand-backs say."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from dispatch.actions import access, due, keeping
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit


def named() -> tuple[Entry, Entry, Entry, Entry]:
    """What an outfit cannot do without: name, town, time zone and units."""
    units = tuple((str(k), str(v)) for k, v in Outfit.Units.choices)
    return (
        Entry(name="name", label="The outfit's name", longest=120),
        Entry(name="town", label="Town", may_lack=True),
        Entry(
            name="time_zone",
            label="Time zone",
            kind="zone",
            hint="as America/New_York",
        ),
        Entry(name="units", label="Units", kind="pick", choices=units),
    )


def on_invoices() -> tuple[Entry, ...]:
    """What stands on the outfit's invoices beside its name."""
    return (
        Entry(
            name="address",
            label="Postal address",
            kind="lines",
            longest=300,
            may_lack=True,
        ),
        Entry(
            name="phone",
            label="Phone",
            kind="phone",
            may_lack=True,
            hint="with the country, as +1 207 555 0131",
        ),
        Entry(name="email", label="E-mail", kind="email", may_lack=True),
        Entry(
            name="tax_number",
            label="Tax number",
            longest=40,
            may_lack=True,
            hint="where your invoices must show one",
        ),
        Entry(
            name="pay_how",
            label="How to pay",
            kind="lines",
            longest=400,
            may_lack=True,
            hint="to whom a check is made out, which account",
        ),
    )


def on_hand_back() -> tuple[Entry, ...]:
    """What whoever gets a sprayed boat back is told by the outfit."""
    return (
        Entry(
            name="care",
            label="Care of a new finish",
            kind="lines",
            longest=300,
            may_lack=True,
            hint="told on hand-back, in your words; a link to the maker's page may stand in it",
        ),
    )


def entries() -> tuple[Entry, ...]:
    """Everything entered of the outfit."""
    return (*named(), *on_invoices(), *on_hand_back())


def values(outfit: Outfit) -> dict[str, Any]:
    """The outfit's values by name."""
    return keeping.stands(outfit, entries())


def missing_on_invoices(outfit: Outfit) -> tuple[str, ...]:
    """What a customer looks for on an invoice and will not find, in words."""
    asked = {"address": "your postal address", "pay_how": "how to pay"}
    return tuple(words for name, words in asked.items() if not getattr(outfit, name))


@transaction.atomic
def change(
    new: Mapping[str, Any], *, by: Account, why: str = "", seen: str = ""
) -> tuple[str, ...]:
    """Set some of the outfit's particulars; all or nothing. Return what was changed, in words.

    Raises:
        Stranger: the account is not the owner's.
        Refused: there is no outfit.
        Stale: it was changed meanwhile.
    """
    access.owner(by)
    outfit = Outfit.objects.select_for_update().first()
    if outfit is None:
        raise Refused("There is no outfit yet. Load the demo, or enter yours.")
    before = values(outfit)
    keeping.fresh("The outfit", before, seen)
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    Outfit.objects.filter(pk=outfit.pk).update(**changed)
    told = keeping.told(entries(), before, changed)
    keeping.write("set", ("outfit", "The outfit"), told, by=by, why=why)
    if "units" in changed:
        # What stands against a stage is stored in words.
        due.put("judge-book", "all")
    return told
