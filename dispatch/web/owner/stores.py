"""The owner's pages of the stores: what is there, what runs short before it can arrive, cans counted anew."""

from typing import cast

from django.contrib import messages
from django.db.models import Q
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from dispatch.actions import cans
from dispatch.records.models import Account, Can
from dispatch.web.gate import owner_only
from dispatch.web.owner import form
from dispatch.web.owner.form import Form, Sent
from dispatch.web.owner.settings import changes, the_outfit

_CHANGED = Q(verb__in=("add-can", "set-can", "remove-can", "use-product"))


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show every product: its cans, and what the open jobs want of it."""
    rows = cans.ahead()
    context = {
        "products": rows,
        "short": [row for row in rows if row.short],
        "changes": changes(the_outfit(), _CHANGED),
        "here": "crew",
    }
    return render(request, "owner/stores.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: HttpRequest) -> HttpResponseBase:
    """Put cans in store, of the product named in the address where one is."""

    def store(sent: Sent) -> tuple[str, str]:
        can = cans.add(sent.values, by=sent.by)
        return reverse("stores"), f"{can.sheet.name} is in store."

    return form.answer(
        request,
        Form(
            title="Cans put in store",
            here="crew",
            groups=(("The cans", cans.entered()),),
            stands=cans.blank() | {"sheet": request.GET.get("sheet")},
            store=store,
            button="Put them in store",
            back=(reverse("stores"), "The stores"),
            asks_why=False,
            fresh=True,
        ),
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def one(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show cans of one sort, and set them to what was counted."""
    can = get_object_or_404(Can.objects.select_related("sheet"), pk=pk)

    def store(sent: Sent) -> tuple[str, str]:
        told = cans.change(can, sent.values, by=sent.by, why=sent.why, seen=sent.seen)
        return reverse("stores"), form.changed_words(told)

    made = Form(
        title=f"{can.sheet.name} in store",
        here="crew",
        groups=(("The cans as counted", cans.entered()),),
        stands=cans.values(can),
        store=store,
        button="Save the count",
        back=(reverse("stores"), "The stores"),
    )
    return form.answer(request, made, template="owner/can.html", more={"can": can})


@require_POST
@owner_only
def remove(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Take cans out."""
    can = get_object_or_404(Can.objects.select_related("sheet"), pk=pk)
    why = request.POST.get("why", "").strip()[: form.WHY_MOST]
    cans.remove(can, by=cast("Account", request.user), why=why)
    messages.success(request, f"{can.sheet.name} is taken out of the store.")
    return redirect("stores")
