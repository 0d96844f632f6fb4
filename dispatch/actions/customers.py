"""Customers: who owns the boats, how they may be told things."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from dispatch.actions import access, history, keeping
from dispatch.actions.entries import Entry
from dispatch.records.models import Account, Customer, Outfit


def entries() -> tuple[Entry, ...]:
    """What is entered of a customer."""
    return (
        Entry(name="name", label="Name"),
        Entry(
            name="phone",
            label="Phone",
            kind="phone",
            may_lack=True,
            hint="with the country, as +1 207 555 0131",
        ),
        Entry(name="email", label="E-mail", kind="email", may_lack=True),
        Entry(
            name="address",
            label="Postal address",
            kind="lines",
            longest=300,
            may_lack=True,
            hint="for invoices",
        ),
        Entry(name="text_consent", label="Agreed to texts", kind="tick"),
        Entry(name="email_consent", label="Agreed to e-mail", kind="tick"),
        Entry(
            name="time_zone",
            label="Time zone",
            kind="zone",
            hint="nobody is written to at night by their own clock",
        ),
    )


def blank() -> dict[str, Any]:
    """What a new customer begins with."""
    zone = Outfit.objects.values_list("time_zone", flat=True).first() or "UTC"
    return {entry.name: "" for entry in entries()} | {
        "text_consent": False,
        "email_consent": False,
        "time_zone": zone,
    }


def values(customer: Customer) -> dict[str, Any]:
    """A customer's values by name."""
    return keeping.stands(customer, entries())


def faults(new: Mapping[str, Any]) -> dict[str, str]:
    """What does not go together, a sentence by name."""
    return unreachable(new)


def unreachable(new: Mapping[str, Any]) -> dict[str, str]:
    """What was agreed to and lacks its address, a sentence by name."""
    found = {}
    if new.get("text_consent") and not new.get("phone"):
        found["phone"] = "Texts need a number. Give one, or take the tick out."
    if new.get("email_consent") and not new.get("email"):
        found["email"] = "E-mail needs an address. Give one, or take the tick out."
    return found


@transaction.atomic
def add(new: Mapping[str, Any], *, by: Account) -> Customer:
    """Add a customer.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
    """
    access.owner(by)
    keeping.refuse(faults(new))
    customer = Customer.objects.create(**new)
    history.write("add-customer", subject(customer), f"Added {customer.name}.", by=by)
    return customer


@transaction.atomic
def change(
    customer: Customer,
    new: Mapping[str, Any],
    *,
    by: Account,
    why: str = "",
    seen: str = "",
) -> tuple[str, ...]:
    """Change some of a customer's values; return what was changed, in words.

    Raises:
        Stranger: the account is not the owner's.
        Refused: values do not go together.
        Stale: it was changed meanwhile.
    """
    access.owner(by)
    before = values(Customer.objects.select_for_update().get(pk=customer.pk))
    keeping.fresh(customer.name, before, seen)
    keeping.refuse(faults(before | dict(new)))
    changed = keeping.differing(before, new)
    if not changed:
        return ()
    Customer.objects.filter(pk=customer.pk).update(**changed)
    told = keeping.told(entries(), before, changed)
    keeping.write(
        "set-customer", (subject(customer), customer.name), told, by=by, why=why
    )
    return told


def subject(customer: Customer) -> str:
    """How the history calls a customer."""
    return f"customer {customer.pk}"
