"""The crew says that a boat whose wet film was to be covered is covered."""

from datetime import datetime, time
from typing import cast
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from dispatch.actions import clock, covers, taken_once
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Cover
from dispatch.web.crew import route
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def on(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Somebody of the crew says that she is covered; a refusal shows the page again with its sentence."""
    rows = Cover.objects.select_related("equipment", "job__boat__place")
    cover = get_object_or_404(rows, pk=pk)
    word, person = route.sender(request)
    try:
        at = _moment(request.POST.get("at", ""), cover)
        taken_once.report(
            word,
            person,
            lambda: covers.is_on(
                cover, person.name, at, by=cast("Account", request.user)
            ),
        )
    except Refused as refusal:
        return route.refused(request, None, clock.today(), refusal, {})
    return redirect("route")


def _moment(given: str, cover: Cover) -> datetime:
    """A time of today at the boat's place; now where none was given."""
    now = clock.now().astimezone(ZoneInfo(cover.job.boat.place.time_zone))
    try:
        wall = time.fromisoformat(given)
    except ValueError:
        return clock.now()
    return now.replace(hour=wall.hour, minute=wall.minute, second=0, microsecond=0)
