"""The crew says that a boat whose wet film was to be covered is covered."""

from datetime import date
from typing import cast

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from dispatch.actions import clock, covers, taken_once
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Cover, Person
from dispatch.web.crew import phone, route
from dispatch.web.gate import crew_only


@require_POST
@crew_only
def on(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Somebody of the crew says that she is covered; a refusal shows the page again with its sentence."""
    rows = Cover.objects.select_related("equipment", "job__boat__place")
    cover = get_object_or_404(rows, pk=pk)
    word, person = route.sender(request)
    try:
        taken_once.report(word, person, lambda: _on(request, cover, person))
    except Refused as refusal:
        return route.refused(request, None, clock.today(), refusal, {})
    return redirect("route")


def _on(request: HttpRequest, cover: Cover, person: Person) -> None:
    """Covered since now, or since a phone without signal kept it."""
    at = phone.moment(request, cover.job.boat.place, date.min)
    covers.is_on(cover, person.name, at, by=cast("Account", request.user))
