"""The owner's page to enter a place's sky by hand, beside what the forecast says of the next hours."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from dispatch.actions import clock, facts, hand_sky
from dispatch.actions.board_words import dated, lasting
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Place
from dispatch.trade.spans import Span
from dispatch.web.gate import owner_only
from dispatch.web.owner import sky_hours

_USUAL = timedelta(hours=6)


@dataclass(frozen=True, kw_only=True)
class Field:
    """One number of the form."""

    name: str
    label: str
    unit: str
    entered: str

    @property
    def keys(self) -> str:
        """Which keys a phone offers: those for decimals alone have no minus on some, and air may be below nought."""
        return "text" if self.name.endswith("_c") else "decimal"


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def page(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show the next hours of a place's sky, and put over them what was entered."""
    place = get_object_or_404(Place, key=key)
    if request.method != "POST":
        return _form(request, place, {}, "")
    sent = cast("Mapping[str, str]", request.POST.dict())
    try:
        span, numbers = _span(place, sent), dict(_numbers(sent))
        hand_sky.enter(place, span, numbers, by=cast("Account", request.user))
    except Refused as refusal:
        return _form(request, place, sent, str(refusal))
    messages.success(
        request, "Entered. What hangs on it is being judged; look again in a minute."
    )
    return redirect("steps") if "start" in request.GET else redirect("place-sky", key)


@require_POST
@owner_only
def take_back(request: HttpRequest, key: str) -> HttpResponseBase:
    """Let the forecast stand again."""
    place = get_object_or_404(Place, key=key)
    try:
        hand_sky.take_back(place, by=cast("Account", request.user))
        messages.success(request, "The forecast stands again.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("place-sky", key=key)


def _form(
    request: HttpRequest, place: Place, sent: Mapping[str, str], fault: str
) -> HttpResponseBase:
    now, zone = clock.now(), ZoneInfo(place.time_zone)
    begins = now.astimezone(zone).replace(minute=0, second=0, microsecond=0)
    days = sky_hours.days(place, now)
    context = {
        "place": place,
        "fault": fault,
        "wrong": _wrong(fault),
        "from": sent.get("from") or f"{begins:%Y-%m-%dT%H:%M}",
        "until": sent.get("until") or f"{_later(begins, zone):%Y-%m-%dT%H:%M}",
        "fields": [
            Field(
                name=name,
                label=label,
                unit=hand_sky.unit(name).text,
                entered=sent.get(name, ""),
            )
            for name, label in hand_sky.NAMES.items()
        ],
        "heads": sky_hours.heads(),
        "days": days,
        "unknown": any("" in row.numbers for day in days for row in day.rows),
        "stands": hand_sky.standing(place),
        "issued": _issued(place, now, zone),
        "zone": zone.key,
    }
    status = 422 if fault else 200
    return render(request, "owner/hand_sky.html", context, status=status)


def _wrong(fault: str) -> str:
    """The field that a sentence is about, where it names one."""
    heads = {name: f"{label}:" for name, label in hand_sky.NAMES.items()}
    heads |= {"from": "The first moment", "until": "The last moment"}
    return next((name for name, head in heads.items() if fault.startswith(head)), "")


def _later(begins: datetime, zone: ZoneInfo) -> datetime:
    return (begins.astimezone(UTC) + _USUAL).astimezone(zone)


def _issued(place: Place, now: datetime, zone: ZoneInfo) -> str:
    newest = facts.latest_forecast(place, now)
    if newest is None:
        return "No forecast has come for this place."
    age = lasting((now - newest.issued_at) / timedelta(minutes=1))
    return f"The newest forecast was issued {dated(newest.issued_at, zone)}, {age} ago."


def _span(place: Place, sent: Mapping[str, str]) -> Span:
    start, end = (
        _moment(place, sent.get(name, ""), what)
        for name, what in (("from", "first"), ("until", "last"))
    )
    if end <= start:
        raise Refused("The hours end before they begin. Swap them.")
    return Span(start, end)


def _moment(place: Place, entered: str, what: str) -> datetime:
    try:
        wall = datetime.strptime(entered, "%Y-%m-%dT%H:%M")  # noqa: DTZ007 - the zone is the place's
    except ValueError as error:
        raise Refused(
            f"The {what} moment is missing. Pick a day and an hour."
        ) from error
    return wall.replace(tzinfo=ZoneInfo(place.time_zone)).astimezone(UTC)


def _numbers(sent: Mapping[str, str]) -> Iterator[tuple[str, float]]:
    for name, label in hand_sky.NAMES.items():
        entered = sent.get(name, "").strip()
        if not entered:
            continue
        try:
            yield name, hand_sky.unit(name).stored(entered)
        except ValueError as error:
            raise Refused(
                f"{label}: {entered[:20]} is no number. Write one, or leave it empty."
            ) from error
