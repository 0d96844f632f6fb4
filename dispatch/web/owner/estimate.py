"""A job's estimate for the owner: labour, product, price, and what the last like it took."""

from typing import cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import (
    agreed_price,
    lessons,
    promise,
    show_estimate,
    why_minutes,
)
from dispatch.actions.board_words import lasting
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Job, Outfit
from dispatch.trade.words import Words
from dispatch.web.gate import owner_only


@require_GET
@owner_only
def show(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a job's estimate."""
    job = get_object_or_404(
        Job.objects.select_related("boat__place", "kind", "sheet"), key=key
    )
    found = show_estimate.of(job)
    words = Words(system=Outfit.objects.get().units)
    return render(
        request,
        "owner/estimate.html",
        {
            "job": job,
            "est": found,
            "why": why_minutes.of(job),
            "begun": any(stage.really for stage in found.stages),
            "laid": found.product and any(any(c.used) for c in found.product.coats),
            "shape": job.boat.shape.replace("-", " "),
            "long": words.distance(job.boat.length_m),
            "likely": lasting(found.likely_minutes),
            "late": lasting(found.late_minutes),
            "learnt": lasting(lessons.of(job).minutes(found.likely_minutes)),
            "lesson": lessons.of(job),
            "promise": promise.of(job),
            "repairs": ", ".join(f"{n} {size}" for size, n in job.repairs.items() if n),
        },
    )


@require_POST
@owner_only
def learn(request: HttpRequest, key: str) -> HttpResponseBase:
    """Reckon jobs like this one by what the last of them took."""
    job = get_object_or_404(Job.objects.select_related("kind", "boat"), key=key)
    try:
        factor = lessons.take(job, by=cast("Account", request.user))
        messages.success(
            request, f"Such jobs are reckoned with {factor:.2f} times the minutes now."
        )
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("estimate", key=key)


@require_POST
@owner_only
def agree(request: HttpRequest, key: str) -> HttpResponseBase:
    """Take the price a plugin told as the agreed one."""
    job = get_object_or_404(
        Job.objects.select_related("boat__place", "kind", "sheet"), key=key
    )
    cents = request.POST.get("cents", "")
    try:
        agreed_price.agree(
            job,
            int(cents) if cents.isdecimal() else -1,
            by=cast("Account", request.user),
        )
        messages.success(request, f"Agreed is ${int(cents) / 100:,.0f} now.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("estimate", key=key)
