"""The owner's pages of hours and pay, and of planned against real minutes."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.views.decorators.http import require_GET

from dispatch.actions import actuals, clock, pay
from dispatch.web.gate import owner_only
from dispatch.web.owner import draw_actuals
from dispatch.web.owner.settings import the_outfit


@require_GET
@owner_only
def hours(request: HttpRequest, starts_on: date | None = None) -> HttpResponseBase:
    """Show a week's hours of everybody, the one that is now where none is named."""
    monday = _monday(starts_on)
    rows = pay.of(monday)
    told = [
        {
            "one": row,
            "days": [f"{m / 60:.1f}" if m else "" for m in row.days],
            "hours": f"{row.minutes / 60:.1f}",
            "over": f"{row.over_minutes / 60:.1f}" if row.over_minutes else "",
        }
        for row in rows
    ]
    context = {
        "monday": monday,
        "before": monday - timedelta(days=7),
        "after": monday + timedelta(days=7),
        "days": [monday + timedelta(days=n) for n in range(7)],
        "rows": told,
        "cents": sum(row.cents for row in rows),
        "here": "crew",
    }
    return render(request, "owner/pay.html", context)


@require_GET
@owner_only
def hours_out(_: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Hand the same out as CSV."""
    monday = _monday(starts_on)
    answer = HttpResponse(
        pay.written(monday), content_type="text/csv; charset=utf-8; header=present"
    )
    name = f"hours-{monday.isoformat()}.csv"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


@require_GET
@owner_only
def minutes(request: HttpRequest) -> HttpResponseBase:
    """Show planned against real minutes, drawn and as a table."""
    points = actuals.points()
    legend = [(grade, draw_actuals.shape(grade, 8.0, 8.0)) for grade in (1, 2, 3, 4)]
    context = {
        "points": points,
        "rows": actuals.rows(points),
        "plot": draw_actuals.drawn(points),
        "wide": draw_actuals.WIDE,
        "high": draw_actuals.HIGH,
        "legend": legend,
        "here": "crew",
    }
    return render(request, "owner/minutes.html", context)


def _monday(day: date | None) -> date:
    today = clock.now().astimezone(ZoneInfo(the_outfit().time_zone)).date()
    found = day or today
    return found - timedelta(days=found.weekday())
