"""The owner's pages of customers: a list to search, one page each with the boats, a new one."""

from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import customers
from dispatch.records.models import Customer
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Groups, Sent
from dispatch.web.owner.settings import changes, the_outfit


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """List the customers."""
    words = request.GET.get("q", "")[:80].strip()
    rows = Customer.objects.annotate(owns=Count("boats", distinct=True))
    if words:
        rows = rows.filter(
            Q(name__icontains=words)
            | Q(phone__icontains=words)
            | Q(email__icontains=words)
            | Q(boats__name__icontains=words)
        ).distinct()
    return render(request, "owner/customers.html", {"customers": rows, "q": words})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Add a customer."""

    def save(sent: Sent) -> tuple[str, str]:
        row = customers.add(sent.values, by=sent.by)
        return reverse("customer", args=[row.pk]), f"{row.name} is in the book."

    made = Form(
        title="A new customer",
        here="book",
        groups=_groups(),
        stands=customers.blank(),
        check=customers.faults,
        store=save,
        button="Add the customer",
        back=(reverse("customers"), "All customers"),
        asks_why=False,
        fresh=True,
    )
    return form.answer(request, made)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def one(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show a customer with the boats, and set what was changed."""
    row = get_object_or_404(Customer, pk=pk)

    def save(sent: Sent) -> tuple[str, str]:
        told = customers.change(
            row, sent.values, by=sent.by, why=sent.why, seen=sent.seen
        )
        return reverse("customer", args=[pk]), form.changed_words(told)

    made = Form(
        title=row.name,
        here="book",
        groups=_groups(),
        stands=customers.values(row),
        check=customers.faults,
        store=save,
        button="Save the customer",
        back=(reverse("customers"), "All customers"),
    )
    more = {
        "customer": row,
        "boats": row.boats.select_related("place").prefetch_related("jobs__kind"),
        "changes": changes(the_outfit(), Q(subject=customers.subject(row))),
    }
    return form.answer(request, made, template="owner/customer.html", more=more)


def _groups() -> Groups:
    return (("Who, and how to reach them", customers.entries()),)
