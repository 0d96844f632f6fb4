"""Why a stage stands where it stands, or is left out."""

from itertools import groupby

from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import render
from django.views.decorators.http import require_GET

from dispatch.actions import show_why, timeline
from dispatch.actions.board_words import between, dated
from dispatch.actions.errors import Refused
from dispatch.actions.show_why import Against, Why
from dispatch.records.models import Week
from dispatch.web.gate import owner_only
from dispatch.web.owner.week import plans_of, this_monday


@require_GET
@owner_only
def why(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Show a stage's hours this week and everything that stands against the others."""
    try:
        row = show_why.stage_named(stage)
    except Refused as refusal:
        raise Http404(str(refusal)) from refusal
    monday = this_monday()
    week = Week.objects.filter(starts_on=monday).first() or Week(starts_on=monday)
    plans = plans_of(week)
    found = show_why.why(row, plans.draft or plans.standing, timeline.of(week).horizon)
    return render(
        request,
        "owner/why.html",
        {
            "why": found,
            "job": row.job.key,
            "issued": dated(found.issued_at, found.zone) if found.issued_at else "",
            "planned": between(found.planned, found.zone) if found.planned else "",
            "draft": plans.draft is not None,
            "hours": [(between(h.span, found.zone), h) for h in found.hours],
            "days": _by_day(found),
        },
    )


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
