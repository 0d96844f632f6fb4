"""The owner deals with a boat that the crew could not get to, from its snag on the board."""

from collections.abc import Callable
from datetime import date
from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from dispatch.actions import (
    announcing,
    board_held_snags,
    held_boat,
    held_for_owner,
    money,
    rates,
)
from dispatch.actions.board import Snag
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, ShutOut
from dispatch.web.gate import owner_only


def row(snag: Snag, monday: date) -> dict[str, Any]:
    """What the snag of such a boat offers: that she can be got to, a fee, her owner's number, her job."""
    out = _row(int(snag.about.removeprefix(board_held_snags.ABOUT)))
    links = [(reverse("job-terms", args=[out.job.key]), "Her job")]
    if out.job.boat.customer.phone:
        phone = out.job.boat.customer.phone
        links.insert(0, (f"tel:{phone}", f"Call {out.job.boat.customer.name}"))
    found: dict[str, Any] = {"links": links}
    if out.left_at is None:
        return found
    to = reverse("week-let-go", args=[monday, out.pk])
    found |= {"to": to, "sent": [], "button": "She can be got to"}
    found["more"] = []
    customer = out.job.boat.customer
    if announcing.reachable(customer) and not held_for_owner.told(out):
        tell = reverse("week-came", args=[monday, out.pk])
        found["more"].append((tell, f"Tell {customer.name} that we came"))
    cents = round(rates.prices().in_vain_cents)
    if out.fee is None and cents:
        charge = reverse("week-charge", args=[monday, out.pk])
        found["more"].append((charge, f"Put {money.said(cents)} on her job"))
    elif out.fee is None:
        prices = reverse("settings-subject", args=["prices"])
        links.append((prices, "Set what having come in vain costs"))
    return found


@require_POST
@owner_only
def let_go(request: HttpRequest, starts_on: date, pk: int) -> HttpResponseBase:
    """She can be got to: weeks plan her again."""
    by = cast("Account", request.user)
    return _done(request, starts_on, lambda: held_boat.let_go(_row(pk), by=by))


@require_POST
@owner_only
def came(request: HttpRequest, starts_on: date, pk: int) -> HttpResponseBase:
    """Tell her owner that the crew came."""
    by = cast("Account", request.user)
    return _done(request, starts_on, lambda: held_boat.tell(_row(pk), by=by))


@require_POST
@owner_only
def charge(request: HttpRequest, starts_on: date, pk: int) -> HttpResponseBase:
    """Put what having come in vain costs on her job."""

    def act() -> str:
        made = held_boat.charge(_row(pk), by=cast("Account", request.user))
        return f"{made.words}: {money.said(made.cents)} is on her job."

    return _done(request, starts_on, act)


def _row(pk: int) -> ShutOut:
    rows = ShutOut.objects.select_related("job__boat__place", "job__boat__customer")
    return get_object_or_404(rows, pk=pk)


def _done(
    request: HttpRequest, starts_on: date, act: Callable[[], str]
) -> HttpResponseBase:
    try:
        messages.success(request, act())
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)
