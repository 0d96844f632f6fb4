"""Why a stage stands where it stands, or is left out."""

from itertools import groupby
from typing import cast

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import overruling, show_why, timeline
from dispatch.actions.board_words import between, dated
from dispatch.actions.errors import Refused
from dispatch.actions.show_why import Against, Why
from dispatch.records.models import Account, Override, Stage, Visit
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import asked_week


@require_GET
@owner_only
def why(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Show a stage's hours in a week and everything that stands against the others."""
    row = _found(stage)
    week, plans = asked_week.of(request.GET, row)
    found = show_why.why(row, plans.draft or plans.standing, timeline.of(week).horizon)
    return render(
        request,
        "owner/why.html",
        {
            "why": found,
            "monday": week.starts_on,
            "job": row.job.key,
            "issued": dated(found.issued_at, found.zone) if found.issued_at else "",
            "planned": between(found.planned, found.zone) if found.planned else "",
            "draft": plans.draft is not None,
            "hours": [(between(h.span, found.zone), h) for h in found.hours],
            "days": _by_day(found),
            "decided": [(between(d.span, found.zone), d) for d in found.decided],
        },
    )


@require_POST
@owner_only
def overrule(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Overrule a rule for the stage's posted visit, with the owner's reason."""
    given = request.POST
    visit = get_object_or_404(Visit, stage=_found(stage))
    try:
        overruling.overrule(
            visit,
            given.get("code", ""),
            by=cast("Account", request.user),
            why=given.get("why", ""),
        )
    except Refused as refusal:
        form = f"overrule-{given.get('code', '')}"
        return sent_back.to(request, _page(request, stage), form, refusal)
    messages.success(request, "Overruled. It is judged again within a minute.")
    return redirect(_page(request, stage))


@require_POST
@owner_only
def stands(request: HttpRequest, stage: str, pk: int) -> HttpResponseBase:
    """Let a rule that was overruled stand again."""
    row = get_object_or_404(Override, pk=pk, stage=_found(stage))
    overruling.take_back(row, by=cast("Account", request.user))
    messages.success(request, "The rule stands again.")
    return redirect(_page(request, stage))


def _page(request: HttpRequest, stage: str) -> str:
    """The page's address, about the week it was about."""
    asked = request.GET.urlencode()
    return f"{reverse('why', args=[stage])}{'?' if asked else ''}{asked}"


def _found(stage: str) -> Stage:
    try:
        return show_why.stage_named(stage)
    except Refused as refusal:
        raise Http404(str(refusal)) from refusal


def _by_day(found: Why) -> list[tuple[str, list[tuple[str, Against]]]]:
    """What stands against the stage, day by day in its place's own days."""

    def day(row: Against) -> str:
        local = row.span.start.astimezone(found.zone)
        return f"{local:%A} {local.day} {local:%B}"

    rows = sorted(found.against, key=lambda row: row.span)
    return [
        (name, [(between(row.span, found.zone), row) for row in group])
        for name, group in groupby(rows, day)
    ]
