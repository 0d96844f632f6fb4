"""A boat's page for the owner: her sun dial, her sides' shade, whether to turn her, her numbers."""

from datetime import datetime, time
from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import boat_marks, clock, keeping, show_hull
from dispatch.actions.errors import Refused, Stale
from dispatch.actions.show_hull import Turned
from dispatch.records.models import Account, Boat
from dispatch.trade.turning import Lie
from dispatch.web import dial, sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import draw_shade, meanwhile
from dispatch.web.owner.meanwhile import WAS, Met, Stands

_MARKS = ("registration", "hull_number")


@require_GET
@owner_only
def show(request: HttpRequest, key: str) -> HttpResponseBase:
    """Show a boat at the hour asked for, today at her place; now where none is."""
    boat = get_object_or_404(Boat.objects.select_related("place", "customer"), key=key)
    zone = ZoneInfo(boat.place.time_zone)
    now = clock.now().astimezone(zone)
    at = _at(request.GET.get("at", ""), now)
    hull = show_hull.of(boat, at)
    return render(
        request,
        "owner/hull.html",
        {
            "hull": hull,
            "boat": boat,
            "facts": hull.sun,
            "dial": dial.of(hull.sun) if hull.sun else None,
            "at": at,
            "day": draw_shade.day(hull.days[0], zone, at) if hull.days else None,
            "week": draw_shade.week(hull.days, zone) if hull.days else None,
            "turns": [(one, _rows(one, zone)) for one in hull.turns],
        },
    )


@require_POST
@owner_only
def marks(request: HttpRequest, key: str) -> HttpResponseBase:
    """Store a boat's registration and hull number as they are entered."""
    return _marks(request, key)


def _marks(request: HttpRequest, key: str) -> HttpResponseBase:
    """Store them; looked at again where somebody else was first while they were being stored."""
    boat = get_object_or_404(Boat, key=key)
    sent = request.POST
    met = {name: _met(boat, name, sent) for name in _MARKS}
    if any(one.both for one in met.values()):
        said = " ".join(_called(name, one) for name, one in met.items() if one.said)
        crossed = Refused(f"{keeping.crossed(boat.name)} {said}")
        return sent_back.to(request, reverse("hull", args=[key]), "marks", crossed)
    try:
        boat_marks.change(
            boat,
            **{name: one.entered for name, one in met.items()},
            by=cast("Account", request.user),
            seen={name: getattr(boat, name) for name in _MARKS},
        )
    except Stale:
        return _marks(request, key)
    except Refused as refusal:
        return sent_back.to(request, reverse("hull", args=[key]), "marks", refusal)
    messages.success(request, "Stored.")
    return redirect("hull", key=key)


def _met(boat: Boat, name: str, sent: QueryDict) -> Met:
    """Whose one of her numbers is now."""
    stands: str = getattr(boat, name)
    now = Stands(shown=stands, said=meanwhile.quoted(stands))
    return meanwhile.met(sent.get(name, ""), sent.get(f"{WAS}{name}", stands), now)


def _called(name: str, met: Met) -> str:
    """What somebody else set, with the number it is of."""
    return f"The {name.replace('_', ' ')}: {met.said[:1].lower()}{met.said[1:]}"


def _at(given: str, now: datetime) -> datetime:
    try:
        wall = time.fromisoformat(given)
    except ValueError:
        return now
    return now.replace(hour=wall.hour, minute=wall.minute, second=0, microsecond=0)


def _rows(one: Turned, zone: ZoneInfo) -> list[dict[str, object]]:
    """How she lies and how she would lie, in numbers side by side."""
    lies = (("As she lies", one.turn.lying), ("Turned", one.turn.turned))
    return [_row(name, lie, one, zone) for name, lie in lies if lie is not None]


def _row(name: str, lie: Lie, one: Turned, zone: ZoneInfo) -> dict[str, object]:
    done = [minutes for minutes in lie.done_minutes if minutes is not None]
    return {
        "name": name,
        "heading": f"{lie.heading_true_deg:03.0f}°",
        "whole": f"{lie.whole_days} of {len(one.turn.days)}",
        "begins": [_begins(lie, panel, zone) for panel in one.turn.coats.slot_minutes],
        "done": f"{min(done) / 60:.1f} h" if done else "never",
    }


def _begins(lie: Lie, panel: str, zone: ZoneInfo) -> str:
    span = lie.first.get(panel)
    if span is None:
        return f"{panel} never"
    first, last = (one.astimezone(zone) for one in (span.start, span.end))
    return f"{panel} {first:%a %H:%M} to {last:%H:%M}"
