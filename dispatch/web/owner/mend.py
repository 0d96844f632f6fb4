"""The owner mends a week that stands: plans the rest anew, leaves a draft aside."""

from datetime import date, datetime
from typing import cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from dispatch.actions import regrade, replanning, seen, snags, stood_before
from dispatch.actions import still as stillness
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Job, Week, WeekPlan
from dispatch.web import sent_back
from dispatch.web.gate import owner_only

_LONGEST_CAUSE = 600


@require_POST
@owner_only
def rest(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Ask for a draft of what is left of the standing week."""
    week = get_object_or_404(Week, starts_on=starts_on)
    cause = request.POST.get("cause", "")[:_LONGEST_CAUSE]
    try:
        replanning.ask(week, by=cast("Account", request.user), cause=cause)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def leave(request: HttpRequest, plan: int) -> HttpResponseBase:
    """Leave a draft aside."""
    row = get_object_or_404(WeekPlan, pk=plan)
    try:
        replanning.leave(row, by=cast("Account", request.user))
        messages.success(request, "The draft is left aside. What stands goes on.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=row.week.starts_on)


@require_POST
@owner_only
def still(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Hold every move and message still."""
    try:
        stillness.hold(
            by=cast("Account", request.user), why=request.POST.get("why", "")
        )
    except Refused as refusal:
        page = reverse("week-of", args=[starts_on])
        return sent_back.to(request, page, "still", refusal)
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def go_on(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Let moves and messages go on."""
    try:
        stillness.go_on(by=cast("Account", request.user))
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def looked(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """The owner has seen what changed."""
    newest = _moment(request.POST.get("newest", ""))
    seen.look(newest, by=cast("Account", request.user))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def told(request: HttpRequest, starts_on: date, job: str) -> HttpResponseBase:
    """The owner has dealt with what the crew told of a boat."""
    row = get_object_or_404(Job.objects.select_related("boat"), key=job)
    try:
        messages.success(request, snags.settle(row, by=cast("Account", request.user)))
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def graded(request: HttpRequest, starts_on: date, job: str) -> HttpResponseBase:
    """The owner grades a boat otherwise, by what the work showed."""
    row = get_object_or_404(Job.objects.select_related("boat"), key=job)
    to = request.POST.get("grade", "")
    try:
        grade = int(to) if to.isdecimal() else 0
        said = regrade.to_grade(row, grade, by=cast("Account", request.user))
        messages.success(request, f"{said} Nothing is moved: plan the rest anew by it.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def before(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Make a draft of the week as it stood before it was last posted."""
    week = get_object_or_404(Week, starts_on=starts_on)
    try:
        stood_before.draft(week, by=cast("Account", request.user))
        messages.success(
            request,
            "This draft is the week as it stood before. Nobody is told until you post it.",
        )
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


def _moment(given: str) -> datetime | None:
    """An aware moment as the page wrote it; None for anything else."""
    try:
        found = datetime.fromisoformat(given)
    except ValueError:
        return None
    return found if found.tzinfo else None
