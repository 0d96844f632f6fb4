"""The demo's clock: where it stands, and the owner's buttons that move it on."""

from datetime import UTC, datetime, time, timedelta
from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from dispatch.actions import demo_clock
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit
from dispatch.web.gate import owner_only

_MORNING, _EVENING = time(6), time(19)


def steps(now: datetime, zone: ZoneInfo) -> list[tuple[str, str]]:
    """Words and moment (ISO 8601) of each step the clock can be moved on by."""
    hour = (now + timedelta(hours=1)).astimezone(UTC)
    return [
        ("1 hour on", hour.isoformat()),
        ("to 06:00", _next(now, _MORNING, zone).isoformat()),
        ("to 19:00", _next(now, _EVENING, zone).isoformat()),
    ]


def _next(now: datetime, at: time, zone: ZoneInfo) -> datetime:
    """The next moment the wall clock shows a time."""
    day = now.astimezone(zone).date()
    found = datetime.combine(day, at, tzinfo=zone).astimezone(UTC)
    if found <= now:
        day += timedelta(days=1)
        found = datetime.combine(day, at, tzinfo=zone).astimezone(UTC)
    return found


@require_POST
@owner_only
def move(request: HttpRequest) -> HttpResponseBase:
    """Move the clock on and go back to the page the button stood on."""
    try:
        demo_clock.move_to(
            _moment(request.POST.get("to", "")), by=cast("Account", request.user)
        )
    except Refused as refusal:
        messages.error(request, str(refusal))
    back = request.POST.get("next", "")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}):
        back = "/"
    return redirect(back)


def _moment(given: str) -> datetime:
    try:
        found = datetime.fromisoformat(given)
    except ValueError as error:
        raise BadRequest("The clock needs a moment to be moved to.") from error
    if found.tzinfo is None:
        raise BadRequest("The clock needs a moment with its time zone.")
    return found


def standing() -> dict[str, object] | None:
    """Where the demo's clock stands and how it may be moved; None on the real clock."""
    outfit = Outfit.objects.first()
    if outfit is None or outfit.stands_at is None:
        return None
    zone = ZoneInfo(outfit.time_zone)
    local = outfit.stands_at.astimezone(zone)
    return {
        "moment": local.isoformat(),
        "words": f"{local:%a} {local.day} {local:%b %Y %H:%M}",
        "steps": steps(outfit.stands_at, zone),
    }
