"""The owner's page of the history: who changed what, when and why; searched, by boat, by day."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.core.paginator import Paginator
from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import render
from django.views.decorators.http import require_GET

from dispatch.actions.board_words import dated
from dispatch.records.models import Boat, HistoryEntry
from dispatch.web.gate import owner_only
from dispatch.web.owner.settings import the_outfit

_A_PAGE = 50


@require_GET
@owner_only
def history(request: HttpRequest) -> HttpResponseBase:
    """Show the changes that were asked for, the newest first."""
    asked = request.GET
    zone = ZoneInfo(the_outfit().time_zone)
    rows = _about(asked.get("boat", ""))
    for word in asked.get("q", "")[:80].split()[:8]:
        rows = rows.filter(
            Q(sentence__icontains=word)
            | Q(why__icontains=word)
            | Q(actor__icontains=word)
            | Q(subject__icontains=word)
        )
    rows = _between(rows, (asked.get("from", ""), asked.get("to", "")), zone)
    page = Paginator(rows, _A_PAGE).get_page(asked.get("page"))
    kept = asked.copy()
    kept.pop("page", None)
    context = {
        "rows": [(dated(row.at, zone), row) for row in page],
        "page": page,
        "asked": asked,
        "kept": kept.urlencode(),
        "boats": Boat.objects.order_by("name"),
        "here": "history",
    }
    return render(request, "owner/history.html", context)


def _about(key: str) -> QuerySet[HistoryEntry]:
    """All changes, or those of a boat and her jobs."""
    boat = Boat.objects.filter(key=key).first()
    if boat is None:
        return HistoryEntry.objects.all()
    jobs = list(boat.jobs.values_list("key", flat=True))
    subjects = [f"boat {boat.key}", *(f"job {job}" for job in jobs)]
    return HistoryEntry.objects.filter(subject__in=subjects)


def _between(
    rows: QuerySet[HistoryEntry], days: tuple[str, str], zone: ZoneInfo
) -> QuerySet[HistoryEntry]:
    first, last = (_day(text) for text in days)
    if first:
        rows = rows.filter(at__gte=datetime.combine(first, time(0), tzinfo=zone))
    if last:
        end = datetime.combine(last + timedelta(days=1), time(0), tzinfo=zone)
        rows = rows.filter(at__lt=end)
    return rows


def _day(text: str) -> date | None:
    try:
        found = date.fromisoformat(text)
    except ValueError:
        return None
    return found if 1900 < found.year < 2200 else None
