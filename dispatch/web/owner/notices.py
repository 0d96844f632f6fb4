"""The owner's messages: what is to be asked about, what was refused, what waits and what went out."""

from dataclasses import dataclass
from datetime import timedelta
from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import asking, calling, clock, still
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Notice, Reply
from dispatch.web.gate import owner_only
from dispatch.web.owner import settings

_MOST, _LATEST_REPLIES = 40, 10
_LATE = timedelta(minutes=10)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One message with the moment that matters of it, and whether it waits longer than it should."""

    notice: Notice
    at: str
    late: bool = False
    told: str = ""


@dataclass(frozen=True, kw_only=True)
class Group:
    """Messages that have come equally far."""

    key: str
    title: str
    about: str
    lines: tuple[Line, ...]
    more: int


_GROUPS = (
    (
        "unknown",
        "Ask whether these came",
        "They were handed over, and nobody knows whether they arrived. They are not sent again by themselves.",
    ),
    ("refused", "Refused", "These will not be taken: call by hand."),
    ("waiting", "Waiting", ""),
    ("sent", "Sent", ""),
    ("dropped", "Not sent", "Overtaken by a newer message, too late, or not wanted."),
)


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show the messages by how far they have come, what needs a hand first."""
    zone = ZoneInfo(settings.the_outfit().time_zone)
    held = still.said()
    groups = [_group(*words, zone, held=bool(held)) for words in _GROUPS]
    context = {
        "groups": [group for group in groups if group.lines],
        "replies": _replies(zone),
        "held": held,
        "cards": [(dated(card.at, zone), card) for card in calling.cards()],
    }
    return render(request, "owner/notices.html", context)


@require_POST
@owner_only
def answer(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Settle a message by what its receiver said."""
    by = cast("Account", request.user)
    try:
        if request.POST.get("came") == "yes":
            asking.came(pk, by=by)
            messages.success(request, "Counted as sent.")
        else:
            asking.did_not_come(pk, by=by)
            messages.success(request, "It goes out again.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("notices")


@require_POST
@owner_only
def called(request: HttpRequest, key: str) -> HttpResponseBase:
    """Put down that somebody was called by hand."""
    try:
        job = calling.called(key, by=cast("Account", request.user))
        messages.success(request, f"Put down: {job.boat.customer.name} was called.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("notices")


def _group(key: str, title: str, about: str, zone: ZoneInfo, *, held: bool) -> Group:
    states = ("waiting", "claimed") if key == "waiting" else (key,)
    rows = Notice.objects.filter(state__in=states).select_related("customer", "person")
    rows = rows.order_by("due_at" if key == "waiting" else "-due_at", "pk")
    return Group(
        key=key,
        title=title,
        about=about,
        lines=tuple(_line(row, zone, held=held) for row in rows[:_MOST]),
        more=max(0, rows.count() - _MOST),
    )


def _line(row: Notice, zone: ZoneInfo, *, held: bool) -> Line:
    overdue = row.state == Notice.State.WAITING and row.due_at + _LATE < clock.now()
    # What is held still waits for its owner, not for a plugin.
    late = overdue and not held
    told = dated(row.delivery_at, zone) if row.delivery_at else ""
    at = dated(row.settled_at or row.due_at, zone)
    return Line(notice=row, at=at, late=late, told=told)


def _replies(zone: ZoneInfo) -> list[tuple[str, Reply]]:
    rows = Reply.objects.select_related("customer", "person")[:_LATEST_REPLIES]
    return [(dated(row.at, zone), row) for row in rows]
