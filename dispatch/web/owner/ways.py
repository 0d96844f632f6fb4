"""Turn a boat or cover her: what each other way of doing her job would do to the week, and doing it in a draft."""

from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import closed_ways, other_ways
from dispatch.actions.by_hand_rows import Crossed
from dispatch.actions.errors import Refused
from dispatch.actions.other_ways import Way
from dispatch.records.models import Account, Job, WeekPlan
from dispatch.web.gate import owner_only
from dispatch.web.owner import hand


@require_GET
@owner_only
def shown(request: HttpRequest, plan: int, job: str) -> HttpResponseBase:
    """Show her ways with what each would cost; with ``?part`` as a piece of the board."""
    row, her = _found(plan, job)
    context: dict[str, Any] = {"plan": row, "job": her, "here": _here(row, her)}
    context["lays"] = other_ways.lays(row, her)
    context["closed"] = closed_ways.of(row, her)
    try:
        tried = other_ways.tried(row, her)
        context["ways"] = [(one, hand.words(one.answer)) for one in tried if one.answer]
    except Refused as refusal:
        context["fault"] = str(refusal)
    page = "owner/ways_part.html" if "part" in request.GET else "owner/ways.html"
    return render(request, page, context)


@require_POST
@owner_only
def take(request: HttpRequest, plan: int, job: str) -> HttpResponseBase:
    """Have her done another way in a draft; where somebody else was first, show both and offer to do it again."""
    row, her = _found(int(request.POST.get("plan", plan)), job)
    way = request.POST.get("way", "")
    try:
        made = other_ways.take(row, her, way, by=cast("Account", request.user))
        messages.success(request, f"{made.by_hand} Nobody is told until you post it.")
    except Crossed as crossed:
        said = other_ways.name(her, way)
        context = hand.both(request, crossed, her.boat.name, said)
        return render(request, "owner/crossed.html", context, status=409)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=row.week.starts_on)


def _found(plan: int, job: str) -> tuple[WeekPlan, Job]:
    her = Job.objects.select_related("boat").prefetch_related("stages")
    return (
        get_object_or_404(WeekPlan.objects.select_related("week"), pk=plan),
        get_object_or_404(her, key=job),
    )


def _here(plan: WeekPlan, job: Job) -> Way | None:
    return next((one for one in other_ways.of(plan, job) if one.here), None)
