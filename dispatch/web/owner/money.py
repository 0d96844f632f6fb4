"""The owner's pages of money: what is owed, a job's account with extras, payments and invoices."""

from collections.abc import Callable
from typing import Any, cast

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import clock, entries, invoice_pdf, invoices, money, outfit
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Extra, Invoice, Job, Payment
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner.form import WHY_MOST, Field
from dispatch.web.owner.settings import the_outfit

_A_PAGE = 50
_DONE = {
    "extra": "The extra is put down.",
    "payment": "The payment is put down.",
    "invoice": "The invoice is issued. Its PDF stands below.",
}


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show what is owed and the invoices, the latest first."""
    owed = money.owed()
    context = {
        "owed": owed,
        "sum": sum(one.owed for one in owed if not one.back),
        "back": sum(one.back for one in owed),
        "invoices": Paginator(
            Invoice.objects.select_related("job__boat"), _A_PAGE
        ).get_page(request.GET.get("page")),
        "today": clock.today(),
        "here": "money",
    }
    return render(request, "owner/money.html", context)


@require_GET
@owner_only
def one(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show how a job stands."""
    return _shown(request, _job(key), {}, {})


@require_POST
@owner_only
def add(request: HttpRequest, key: str, what: str) -> HttpResponseBase:
    """Put down an extra or a payment, or issue the invoice."""
    job, by = _job(key), cast("Account", request.user)
    rows, act = _WHAT[what]
    sent = {name: str(value) for name, value in request.POST.items()}
    values, faults = entries.read(rows(), sent)
    if not faults:
        try:
            act(job, values, by)
        except Refused as refusal:
            faults = {"": str(refusal)}
    if faults:
        return _shown(request, job, {what: sent}, {what: faults})
    messages.success(request, _DONE[what])
    return redirect("job-money", key=key)


@require_POST
@owner_only
def remove(request: HttpRequest, key: str, what: str, pk: int) -> HttpResponseBase:
    """Take out an extra or a payment, or make an invoice void."""
    job, by = _job(key), cast("Account", request.user)
    why = request.POST.get("why", "")[:WHY_MOST]
    try:
        if what == "invoice":
            row = get_object_or_404(Invoice, pk=pk, job=job)
            invoices.void(row, by=by, why=why)
        elif what == "extra":
            money.remove(get_object_or_404(Extra, pk=pk, job=job), by=by, why=why)
        else:
            money.remove(get_object_or_404(Payment, pk=pk, job=job), by=by, why=why)
    except Refused as refusal:
        page = reverse("job-money", args=[key])
        return sent_back.to(request, page, f"{what}-{pk}", refusal)
    messages.success(request, "Done; the history keeps it.")
    return redirect("job-money", key=key)


@require_GET
@owner_only
def pdf(_: HttpRequest, number: str) -> HttpResponseBase:
    """Hand an invoice out as PDF."""
    named = invoices.number_of(number)
    if named is None:
        raise Http404("There is no such invoice.")
    row = get_object_or_404(Invoice, year=named[0], number=named[1])
    answer = HttpResponse(invoice_pdf.drawn(row), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="invoice-{row}.pdf"'
    return answer


@require_GET
@owner_only
def out(_: HttpRequest) -> HttpResponseBase:
    """Hand every invoice out as CSV."""
    answer = HttpResponse(
        invoices.written(), content_type="text/csv; charset=utf-8; header=present"
    )
    answer["Content-Disposition"] = 'attachment; filename="invoices.csv"'
    return answer


def _job(key: str) -> Job:
    rows = Job.objects.select_related("boat__customer", "boat__place", "kind", "sheet")
    return get_object_or_404(rows, key=key)


_WHAT: dict[
    str,
    tuple[
        Callable[[], tuple[Entry, ...]],
        Callable[[Job, dict[str, Any], Account], object],
    ],
] = {
    "extra": (
        money.extra_entries,
        lambda job, new, by: money.add_extra(job, new, by=by),
    ),
    "payment": (
        money.payment_entries,
        lambda job, new, by: money.add_payment(job, new, by=by),
    ),
    "invoice": (
        invoices.entered,
        lambda job, new, by: invoices.issue(job, new, by=by),
    ),
}
_TITLES = {
    "extra": ("Put down an extra", "Add the extra"),
    "payment": ("Put down a payment", "Add the payment"),
    "invoice": ("Issue the invoice", "Issue it"),
}


def _shown(
    request: HttpRequest,
    job: Job,
    sent: dict[str, dict[str, str]],
    faults: dict[str, dict[str, str]],
) -> HttpResponseBase:
    stands = {
        "on": clock.today(),
        "kind": Payment.Kind.PAYMENT.value,
    } | invoices.blank()
    forms = [
        {
            "what": what,
            "title": _TITLES[what][0],
            "button": _TITLES[what][1],
            "open": what in faults,
            "refused": faults.get(what, {}).get("", ""),
            "groups": [
                (
                    "",
                    _fields(what, rows(), stands, sent.get(what), faults.get(what, {})),
                )
            ],
        }
        for what, (rows, _) in _WHAT.items()
    ]
    context = {
        "job": job,
        "ledger": money.ledger(job),
        "forms": forms,
        "missing": outfit.missing_on_invoices(the_outfit()),
        "here": "money",
    }
    return render(
        request, "owner/job_money.html", context, status=422 if faults else 200
    )


def _fields(
    what: str,
    rows: tuple[Entry, ...],
    stands: dict[str, Any],
    sent: dict[str, str] | None,
    faults: dict[str, str],
) -> list[Field]:
    return [
        Field(
            entry=entry,
            entered=entry.shown(stands.get(entry.name))
            if sent is None
            else sent.get(entry.name, ""),
            fault=faults.get(entry.name, ""),
            under=f"{what}-",
        )
        for entry in rows
    ]
