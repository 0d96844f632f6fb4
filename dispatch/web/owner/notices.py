"""The owner's messages: what needs a hand stands first and whole; what waits and what went out is folded, a line a message."""

from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import asking, calling, still
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Reply
from dispatch.web.gate import owner_only
from dispatch.web.owner import notice_groups, settings

_LATEST_REPLIES, _OPEN_REPLIES = 10, 3


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show the messages by how far they have come, what needs a hand first; or all of one group, page by page."""
    zone, held = ZoneInfo(settings.the_outfit().time_zone), still.said()
    if "of" in request.GET:
        return _one_group(request, zone, held)
    groups = [
        notice_groups.begun(kind, zone, held=bool(held)) for kind in notice_groups.KINDS
    ]
    replies = _replies(zone)
    context = {
        "groups": [group for group in groups if group.count],
        "needs": [group for group in groups if group.whole and group.count],
        "late": notice_groups.late(zone, held=bool(held)),
        "replies": replies[:_OPEN_REPLIES],
        "older_replies": replies[_OPEN_REPLIES:],
        "held": held,
        "cards": [(dated(card.at, zone), card) for card in calling.cards()],
    }
    return render(request, "owner/notices.html", context)


def _one_group(request: HttpRequest, zone: ZoneInfo, held: str) -> HttpResponseBase:
    kind = notice_groups.of(request.GET["of"])
    if kind is None:
        raise Http404
    page = request.GET.get("page", "")
    group = notice_groups.paged(kind, zone, page, held=bool(held))
    context = {"groups": [group], "one": group, "held": held}
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


def _replies(zone: ZoneInfo) -> list[tuple[str, Reply]]:
    rows = Reply.objects.select_related("customer", "person")[:_LATEST_REPLIES]
    return [(dated(row.at, zone), row) for row in rows]
