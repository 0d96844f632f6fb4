"""What has happened that the week did not foresee: one form for each, and the rest of the week planned anew by it."""

from collections.abc import Callable
from datetime import date, datetime, time
from typing import TypeVar, cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import appointments, clock, found, overruns, replanning
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    Account,
    Boat,
    DayOff,
    Equipment,
    Job,
    Outfit,
    Person,
    Place,
    Stage,
    Van,
    VanOff,
    Visit,
    Week,
)
from dispatch.web.gate import owner_only
from dispatch.web.owner import away

_Keyed = TypeVar("_Keyed", Person, Van, Equipment, Place, Boat, Job)


@require_GET
@owner_only
def happened(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Show the forms, and who and what is away in the week."""
    return _page(request, get_object_or_404(Week, starts_on=starts_on))


def _page(
    request: HttpRequest, week: Week, what: str = "", refused: str = ""
) -> HttpResponseBase:
    """The forms; where ``what`` was ``refused``, that sentence beside its form, with its fields as they were sent."""
    zone = ZoneInfo(Outfit.objects.get().time_zone)
    today = clock.now().astimezone(zone).date()
    running = Visit.objects.filter(
        van_day__plan__week=week, stage__state=Stage.State.UNDER_WAY
    ).select_related("stage__job__boat")
    return render(
        request,
        "owner/happened.html",
        {
            "week": week,
            "today": max(today, week.starts_on),
            "what": what,
            "refused": refused,
            # One taken back by its button filled in no form.
            "sent": {} if "back" in request.POST else {what: request.POST},
            "people": Person.objects.filter(active=True),
            "vans": Van.objects.filter(active=True),
            "things": Equipment.objects.all(),
            "boats": Boat.objects.filter(jobs__state__in=("agreed", "in-hand"))
            .select_related("place")
            .distinct(),
            "places": Place.objects.order_by("name"),
            "running": running,
            "held": appointments.to_come(),
            "away": DayOff.objects.filter(on__gte=today).select_related("person")[:20],
            "off": VanOff.objects.filter(on__gte=today).select_related("van")[:20],
            "stands": week.plans.filter(state="standing").exists(),
        },
        status=400 if refused else 200,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def tell(request: HttpRequest, starts_on: date, what: str) -> HttpResponseBase:
    """Store what has happened; with ``anew`` also ask for the rest of the week. A refused form stands at this address."""
    week = get_object_or_404(Week, starts_on=starts_on)
    if request.method != "POST":
        return redirect("week-happened", starts_on=starts_on)
    by = cast("Account", request.user)
    try:
        sentence = _TOLD[what](request.POST, by)
    except Refused as refusal:
        return _page(request, week, what, str(refusal))
    messages.success(request, f"{sentence} {_then(what, request.POST)}")
    # The form was sent to its own part of the page; what was done is told at the head.
    forms = f"{reverse('week-happened', args=[starts_on])}#main"
    if "anew" not in request.POST:
        return redirect(forms)
    try:
        replanning.ask(week, by=by, cause=sentence)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect(forms)
    return redirect("week-of", starts_on=starts_on)


def _person(sent: QueryDict, by: Account) -> str:
    return away.person_told(_row(Person, sent, "person"), sent, by=by)


def _van(sent: QueryDict, by: Account) -> str:
    return away.van_told(_row(Van, sent, "van"), sent, by=by)


def _thing(sent: QueryDict, by: Account) -> str:
    thing, place = _row(Equipment, sent, "thing"), _row(Place, sent, "place")
    return found.equipment_stands(thing, place, by=by)


def _boat(sent: QueryDict, by: Account) -> str:
    boat, place = _row(Boat, sent, "boat"), _row(Place, sent, "place")
    told = sent.get("heading", "").strip()
    try:
        heading = float(told) if told else None
    except ValueError as error:
        raise Refused(
            f"“{told}” is no heading. Enter degrees from 0 to 360."
        ) from error
    reference = sent.get("reference", Boat.HeadingReference.TRUE)
    return found.boat_lies(boat, place, by=by, heading_deg=heading, reference=reference)


def _longer(sent: QueryDict, by: Account) -> str:
    visit = Visit.objects.filter(pk=_number(sent, "visit")).first()
    if visit is None:
        raise Refused("That visit is not in the week any more. Load the page again.")
    zone = ZoneInfo(Outfit.objects.get().time_zone)
    today = clock.now().astimezone(zone).date()
    end = datetime.combine(today, _time(sent.get("until", "")), tzinfo=zone)
    return overruns.until(visit, end, by=by)


def _appointment(sent: QueryDict, by: Account) -> str:
    job = _row(Job, sent, "job")
    to = appointments.read(job, sent.get("to", ""))
    return appointments.move(job, to, by=by)


_TOLD: dict[str, Callable[[QueryDict, Account], str]] = {
    "away": _person,
    "van": _van,
    "thing": _thing,
    "boat": _boat,
    "longer": _longer,
    "appointment": _appointment,
}
WHAT = "|".join(_TOLD)
_STANDS = "The week stands as it was; nobody is told."
_TURNED = f"{_STANDS} Her sky is judged anew first, which takes a minute or two: planned sooner, she is left out."


def _then(what: str, sent: QueryDict) -> str:
    """What follows of it, and who is told."""
    if what == "appointment":
        return appointments.then(_row(Job, sent, "job")) or "Nobody had been told."
    return _TURNED if what == "boat" else _STANDS


def _row(model: type[_Keyed], sent: QueryDict, name: str) -> _Keyed:
    row = model._default_manager.filter(key=sent.get(name, "")).first()  # noqa: SLF001
    if row is None:
        raise Refused("Choose one of the list first. Nothing was changed.")
    return row


def _time(given: str) -> time:
    try:
        return time.fromisoformat(given)
    except ValueError as error:
        raise Refused("Enter the time, as 14:30. Nothing was changed.") from error


def _number(sent: QueryDict, name: str) -> int:
    try:
        return int(sent.get(name, ""))
    except ValueError as error:
        raise Refused("Choose one of the list first. Nothing was changed.") from error
