"""Days on which a person is away or a van off the road: entered ahead, and taken back."""

from collections.abc import Callable
from datetime import date, time
from typing import cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from dispatch.actions import absences
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Person, Van
from dispatch.web.gate import owner_only


@require_POST
@owner_only
def person(request: HttpRequest, key: str) -> HttpResponseBase:
    """Store that a person is away, or there only for some hours; or back on a day."""
    row, by = get_object_or_404(Person, key=key), cast("Account", request.user)

    def act() -> str:
        if "back" in request.POST:
            return absences.person_back(row, _day(request, "back"), by=by)
        first, last = _days(request)
        return absences.person_away(
            row, first, last, by=by, there=_there(request), reason=_reason(request)
        )

    return _done(request, act, "person", key)


@require_POST
@owner_only
def van(request: HttpRequest, key: str) -> HttpResponseBase:
    """Store that a van is off the road; or back on a day."""
    row, by = get_object_or_404(Van, key=key), cast("Account", request.user)

    def act() -> str:
        if "back" in request.POST:
            return absences.van_back(row, _day(request, "back"), by=by)
        first, last = _days(request)
        return absences.van_off(row, first, last, by=by, reason=_reason(request))

    return _done(request, act, "van", key)


def _done(
    request: HttpRequest, act: Callable[[], str], page: str, key: str
) -> HttpResponseBase:
    try:
        told = act()
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, told)
    return redirect(page, key=key)


def _days(request: HttpRequest) -> tuple[date, date]:
    first = _day(request, "first")
    return first, _day(request, "last") if request.POST.get("last") else first


def _day(request: HttpRequest, name: str) -> date:
    try:
        return date.fromisoformat(request.POST.get(name, ""))
    except ValueError as error:
        raise Refused("Give the day as 2027-05-24.") from error


def _there(request: HttpRequest) -> tuple[time, time] | None:
    start, end = request.POST.get("start", ""), request.POST.get("end", "")
    if not start and not end:
        return None
    try:
        return (
            time.fromisoformat(start).replace(tzinfo=None),
            time.fromisoformat(end).replace(tzinfo=None),
        )
    except ValueError as error:
        raise Refused("Give both times as 08:00, or neither.") from error


def _reason(request: HttpRequest) -> str:
    return request.POST.get("reason", "").strip()[:80]
