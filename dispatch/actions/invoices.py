"""Invoices: issued under the next number of the year, void where wrong, listed as CSV."""

import csv
import io
from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from django.db import transaction
from django.db.models import Max

from dispatch.actions import access, clock, history, money
from dispatch.actions.entries import Entry, grouped
from dispatch.actions.errors import Refused
from dispatch.actions.lists import guarded
from dispatch.actions.setting_units import Unit
from dispatch.records.models import Account, Invoice, Job, Outfit
from dispatch.trade.words import Words

_DUE_DAYS = 14


def entered() -> tuple[Entry, ...]:
    """What is entered of an invoice."""
    return (
        Entry(
            name="tax_pct",
            label="Tax",
            kind="number",
            unit=Unit(text="%"),
            most=40,
            hint="what your tax adviser says",
        ),
        Entry(
            name="due_days",
            label="Due within",
            kind="whole",
            unit=Unit(text="days"),
            most=365,
        ),
    )


def blank() -> dict[str, Any]:
    """What a new invoice begins with: the last one's tax."""
    last = Invoice.objects.first()
    return {"tax_pct": last.tax_pct if last else 0.0, "due_days": _DUE_DAYS}


@transaction.atomic
def issue(job: Job, new: Mapping[str, Any], *, by: Account) -> Invoice:
    """Issue a job's invoice with what it stands at now; one that stands already must be void first.

    Raises:
        Stranger: the account is not the owner's.
        Refused: there is nothing to ask for, or an invoice stands.
    """
    access.owner(by)
    # One at a time, whichever jobs they are of: the numbers of a year have no gap and no double.
    outfit = Outfit.objects.select_for_update().get()
    standing = job.invoices.filter(void=False).first()
    if standing:
        raise Refused(f"Invoice {standing} stands. Make it void before another.")
    lines = _lines(job)
    net = sum(int(line["cents"]) for line in lines)
    if net <= 0:
        raise Refused("There is nothing to ask for. Set the price or an extra first.")
    tax = round(net * new["tax_pct"] / 100)
    day = clock.today()
    invoice = Invoice.objects.create(
        job=job,
        year=day.year,
        number=_next(day.year),
        issued_on=day,
        due_on=day + timedelta(days=new["due_days"]),
        outfit=outfit.name,
        outfit_lines=_of(outfit),
        pay_how=outfit.pay_how,
        customer=job.boat.customer.name,
        customer_address=job.boat.customer.address,
        boat=_boat(job, outfit),
        lines=lines,
        tax_pct=new["tax_pct"],
        tax_cents=tax,
        total_cents=net + tax,
        paid_cents=money.paid(job),
        payments=_payments(job),
    )
    told = f"{job}: issued invoice {invoice} over {money.said(invoice.total_cents)}."
    history.write("issue-invoice", f"job {job.key}", told, by=by)
    return invoice


@transaction.atomic
def void(invoice: Invoice, *, by: Account, why: str) -> None:
    """Make an invoice void; its number stays used.

    Raises:
        Stranger: the account is not the owner's.
        Refused: nobody said why.
        Refused: it is void already.
    """
    access.owner(by)
    if not why.strip():
        raise Refused("Say why the invoice is void.")
    if not Invoice.objects.filter(pk=invoice.pk, void=False).update(void=True):
        raise Refused(f"Invoice {invoice} is void already.")
    told = f"{invoice.job}: invoice {invoice} is void."
    history.write("void-invoice", f"job {invoice.job.key}", told, by=by, why=why)


_COLUMNS = (
    "Number", "Issued", "Due", "From", "From address", "Customer", "Customer address", "Boat", "Job",
    "Net", "Tax %", "Tax", "Total", "Paid before", "To pay", "How to pay", "State",
)  # fmt: skip


def written() -> str:
    """Every invoice as CSV (RFC 4180), the oldest first; money with two decimals."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(_COLUMNS)
    rows = Invoice.objects.select_related("job").order_by("year", "number")
    writer.writerows(_row(one) for one in rows)
    return out.getvalue()


def _row(one: Invoice) -> tuple[str, ...]:
    names = (
        one.outfit,
        "\n".join(one.outfit_lines),
        one.customer,
        one.customer_address,
    )
    net, owed = one.total_cents - one.tax_cents, one.total_cents - one.paid_cents
    return (
        str(one),
        one.issued_on.isoformat(),
        one.due_on.isoformat(),
        *map(guarded, (*names, one.boat, one.job.key)),
        _money(net),
        f"{one.tax_pct:g}",
        *map(_money, (one.tax_cents, one.total_cents, one.paid_cents, owed)),
        guarded(one.pay_how),
        "void" if one.void else "stands",
    )


def _money(cents: int) -> str:
    return f"{cents / 100:.2f}"


def _next(year: int) -> int:
    last = Invoice.objects.filter(year=year).aggregate(last=Max("number"))["last"]
    return (last or 0) + 1


def _lines(job: Job) -> list[dict[str, Any]]:
    agreed = [{"words": job.kind.name, "cents": job.price_cents}]
    extras = [{"words": row.words, "cents": row.cents} for row in job.extras.all()]
    return [line for line in (*agreed, *extras) if line["cents"]]


def _of(outfit: Outfit) -> list[str]:
    """What stands under the outfit's name: its address, or its town where none is given, and how to reach it."""
    tax = f"Tax number {outfit.tax_number}" if outfit.tax_number else ""
    told = (
        (outfit.address or outfit.town).splitlines(),
        grouped(outfit.phone),
        outfit.email,
    )
    return [line for line in (*told[0], *told[1:], tax) if line.strip()]


def _payments(job: Job) -> list[dict[str, Any]]:
    return [
        {
            "words": f"{row.get_kind_display()}{f' by {row.how}' if row.how else ''}, "
            f"{dated(row.on)}",
            "cents": row.cents,
        }
        for row in job.payments.all()
    ]


def dated(day: date) -> str:
    """A day as an invoice writes it: June 6, 2027."""
    return f"{day:%B} {day.day}, {day.year}"


def _boat(job: Job, outfit: Outfit) -> str:
    boat = job.boat
    long = Words(system=outfit.units).distance(boat.length_m)
    return ", ".join(filter(None, (boat.name, boat.make, long, boat.registration)))


def number_of(text: str) -> tuple[int, int] | None:
    """The year and the number that ``2027-0001`` names; None where it names none."""
    year, _, number = text.partition("-")
    if not (year.isdecimal() and number.isdecimal() and len(text) <= 15):
        return None
    return (int(year), int(number)) if date.min.year <= int(year) <= 9999 else None
