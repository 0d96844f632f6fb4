"""Days on which a person is away or a van off the road: entered ahead, and taken back."""

from collections.abc import Callable
from datetime import date, time
from typing import cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase, QueryDict
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from dispatch.actions import absences
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Person, Van
from dispatch.web import sent_back
from dispatch.web.gate import owner_only


@require_POST
@owner_only
def person(request: HttpRequest, key: str) -> HttpResponseBase:
    """Store that a person is away, or there only for some hours; or back on a day."""
    row, by = get_object_or_404(Person, key=key), cast("Account", request.user)
    return _done(request, lambda: person_told(row, request.POST, by=by), "person", key)


@require_POST
@owner_only
def van(request: HttpRequest, key: str) -> HttpResponseBase:
    """Store that a van is off the road; or back on a day."""
    row, by = get_object_or_404(Van, key=key), cast("Account", request.user)
    return _done(request, lambda: van_told(row, request.POST, by=by), "van", key)


def person_told(row: Person, sent: QueryDict, *, by: Account) -> str:
    """Store what a form tells of a person's days; return it as a sentence.

    Raises:
        Refused: a day or a time lacks or is none; or as `absences` refuses.
    """
    if "back" in sent:
        return absences.person_back(row, _day(sent, "back"), by=by)
    first, last = _days(sent)
    return absences.person_away(
        row, first, last, by=by, there=_there(sent), reason=sent.get("reason", "")
    )


def van_told(row: Van, sent: QueryDict, *, by: Account) -> str:
    """The same of a van's days."""
    if "back" in sent:
        return absences.van_back(row, _day(sent, "back"), by=by)
    first, last = _days(sent)
    return absences.van_off(row, first, last, by=by, reason=sent.get("reason", ""))


def _done(
    request: HttpRequest, act: Callable[[], str], page: str, key: str
) -> HttpResponseBase:
    try:
        told = act()
    except Refused as refusal:
        # One taken back by its button filled in no form.
        form = "" if "back" in request.POST else "days"
        return sent_back.to(request, reverse(page, args=[key]), form, refusal)
    messages.success(request, told)
    return redirect(page, key=key)


def _days(sent: QueryDict) -> tuple[date, date]:
    first = _day(sent, "first")
    return first, _day(sent, "last") if sent.get("last") else first


def _day(sent: QueryDict, name: str) -> date:
    try:
        return date.fromisoformat(sent.get(name, ""))
    except ValueError as error:
        raise Refused("Give the day as 2027-05-24. Nothing was changed.") from error


def _there(sent: QueryDict) -> tuple[time, time] | None:
    start, end = sent.get("start", ""), sent.get("end", "")
    if not start and not end:
        return None
    try:
        return (
            time.fromisoformat(start).replace(tzinfo=None),
            time.fromisoformat(end).replace(tzinfo=None),
        )
    except ValueError as error:
        raise Refused(
            "Give both times as 08:00, or neither. Nothing was changed."
        ) from error
