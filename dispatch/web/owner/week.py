"""The owner's week: the board, and the buttons that build it, stop it and post it."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import (
    ask_sky,
    board_reading,
    bumps,
    by_hand_rows,
    clock,
    giving_way,
    house_rules,
    planning,
    show_board,
    show_why,
    still,
    stood_before,
    timeline,
)
from dispatch.actions.board import Board
from dispatch.actions.board_words import dated, lasting
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit, Week, WeekPlan
from dispatch.trade.shifts import Objection
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import (
    boat_blocks,
    changes,
    cover,
    draw_paper,
    drawing,
    fitting,
    more,
    only,
    progress,
    snags,
)

_AT_WORK = (WeekPlan.State.ASKED, WeekPlan.State.BUILDING)
_SECONDS = 40


@dataclass(frozen=True, kw_only=True)
class Plans:
    """A week's plans that matter to the page; ``newest`` is whichever was asked for last."""

    standing: WeekPlan | None
    draft: WeekPlan | None
    at_work: WeekPlan | None
    failed: WeekPlan | None


def this_monday() -> date:
    """The week to look at: the one that runs; on its last day the next, which is being planned."""
    outfit = Outfit.objects.first()
    if outfit is None:
        raise Http404
    tomorrow = clock.now().astimezone(ZoneInfo(outfit.time_zone)).date() + timedelta(
        days=1
    )
    return tomorrow - timedelta(days=tomorrow.weekday())


def plans_of(week: Week) -> Plans:
    """The standing plan, the draft and the failure that came after it, and the one being built."""
    newest = week.plans.order_by("-asked_at", "-id") if week.pk else ()
    rows = list(newest.defer("problem", "plan")) if newest else []  # long ones
    standing = next((p for p in rows if p.state == WeekPlan.State.STANDING), None)
    newer = rows[: rows.index(standing)] if standing else rows
    done = [p for p in newer if p.state not in _AT_WORK]
    latest = done[0] if done else None
    return Plans(
        standing=standing,
        draft=next((p for p in done if p.state == WeekPlan.State.DRAFT), None),
        at_work=next((p for p in rows if p.state in _AT_WORK), None),
        failed=latest if latest and latest.state == WeekPlan.State.FAILED else None,
    )


@require_GET
@owner_only
def week(request: HttpRequest, starts_on: date | None = None) -> HttpResponseBase:
    """Show a week's board: its draft where it has one that is newer than what stands."""
    monday = starts_on or this_monday()
    row = Week.objects.filter(starts_on=monday).first() or Week(starts_on=monday)
    plans = plans_of(row)
    shown = _shown(plans, request.GET.get("show", "")) or WeekPlan(week=row)
    whole = show_board.board(shown)
    wanted = request.GET.get("only", "")
    board = only.part(whole, wanted)
    told = progress.told(plans.at_work) if plans.at_work else None
    return render(
        request,
        "owner/week.html",
        {
            "board": board,
            "drawing": drawing.whole(board),
            "paper": draw_paper.sheets(board),
            "head": drawing.HEAD,
            "sky": drawing.sky(board),
            "blocks": boat_blocks.blocks(board),
            "ground": drawing.ground(board),
            "sky_age": _sky_age(board),
            "sky_place": fitting.fitted(board.sky.place, *drawing.SKY_PLACE),
            "sky_short": _sky_short(board),
            "text": list(show_board.text(board)),
            "plans": plans,
            "shown": shown,
            "beneath": by_hand_rows.earlier(shown),
            "monday": monday,
            "gone_by": timeline.has_gone(row),
            "earlier": monday - timedelta(days=7),
            "later": monday + timedelta(days=7),
            "told": told,
            "unjudged": progress.unjudged(shown),
            "built": dated(shown.built_at, board.zone) if shown.built_at else "",
            "posted": dated(shown.posted_at, board.zone) if shown.posted_at else "",
            "shade_moment": dated(drawing.shade_moment(board), board.zone),
            "asking": ask_sky.standing(),
            "choices": only.choices(whole, wanted),
            **more.of(
                shown, cast("Account", request.user), whole, request.GET.get("show", "")
            ),
            "total": shown.plan.get("cost", {}).get("total", 0) / 100,
            "short": drawing.SHORT,
            "giving": giving_way.order(board_reading.read(shown)) if shown.plan else (),
            **_house(shown),
            **changes.of(shown, plans.standing),
            **_still(board.zone),
            "bumps": bumps.of(row),
            "snags": snags.of(board, shown, monday),
            "covers": cover.lines(board),
            "stood_before": stood_before.found(row),
        },
    )


def _still(zone: ZoneInfo) -> dict[str, object]:
    """Whether everything is held still, and since when."""
    outfit = still.since()
    at = outfit.still_since if outfit else None
    return {"still": outfit, "still_since": dated(at, zone) if at else ""}


def _house(plan: WeekPlan) -> dict[str, object]:
    """What a draft breaks of the rules of the house, each with who may overrule it."""
    if plan.state != WeekPlan.State.DRAFT or not plan.plan:
        return {"house": (), "walled": False}
    found = house_rules.objections(plan)
    return {
        "house": [_alike(list(rows)) for _, rows in groupby(found, _kind)],
        "walled": any(one.strength == "wall" for one in found),
    }


def _kind(one: Objection) -> tuple[str, str]:
    return one.strength, one.code


def _alike(rows: list[Objection]) -> dict[str, object]:
    """What breaks one rule: the first in full, the others behind it."""
    first, *others = rows
    return {
        "sentence": first.sentence,
        "who": f"{show_why.STRENGTHS[first.strength]}.",
        "others": [one.sentence for one in others],
    }


def _shown(plans: Plans, wanted: str) -> WeekPlan | None:
    standing = wanted == "standing" and plans.standing
    found = standing or plans.draft or plans.standing
    if found:
        found.refresh_from_db(fields=["problem", "plan"])
    return found


def _sky_short(board: Board) -> str:
    """How old the sky is in as many words as there is room for beside it."""
    if board.sky.issued_at is None or not board.sky.by_hand:
        return _sky_age(board)
    age = (board.now - board.sky.issued_at).total_seconds() / 60
    return f"by hand, {lasting(age)} old"


def _sky_age(board: Board) -> str:
    if board.sky.issued_at is None:
        return "no forecast: unknown"
    age = (board.now - board.sky.issued_at).total_seconds() / 60
    told = f"forecast {lasting(age)} old"
    by_hand = board.sky.by_hand
    return f"{told}; {by_hand[:1].lower()}{by_hand[1:]}" if by_hand else told


@require_POST
@owner_only
def build(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Ask for a draft of the week."""
    try:
        planning.ask(starts_on, by=cast("Account", request.user), seconds=_SECONDS)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def forecasts(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """Have every forecast source asked by the worker; the page tells how that stands. Without one, go where one is chosen."""
    try:
        ask_sky.soon(by=cast("Account", request.user))
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("begin-sky")
    return redirect("week-of", starts_on=starts_on)


@require_GET
@owner_only
def asked(request: HttpRequest, starts_on: date) -> HttpResponseBase:
    """How asking for forecasts stands, as a piece of the page; when it is done the page is loaded anew."""
    asking = ask_sky.standing()
    if asking.since is not None:
        context = {"asking": asking, "monday": starts_on}
        return render(request, "owner/asked_sky.html", context)
    answer = HttpResponse(status=200)
    answer["HX-Redirect"] = reverse("week-of", args=[starts_on])
    return answer


@require_POST
@owner_only
def stop(request: HttpRequest, plan: int) -> HttpResponseBase:
    """Have the planner stop with the best week so far."""
    row = get_object_or_404(WeekPlan, pk=plan)
    planning.stop(row, by=cast("Account", request.user))
    return redirect("week-of", starts_on=row.week.starts_on)


@require_POST
@owner_only
def post(request: HttpRequest, plan: int) -> HttpResponseBase:
    """Make a draft the standing week."""
    row = get_object_or_404(WeekPlan, pk=plan)
    try:
        planning.post(
            row, by=cast("Account", request.user), why=request.POST.get("why", "")
        )
    except Refused as refusal:
        page = reverse("week-of", args=[row.week.starts_on])
        form = "post" if "why" in request.POST else ""
        return sent_back.to(request, page, form, refusal)
    messages.success(request, "The week is posted; it stands until you post another.")
    return redirect("week-of", starts_on=row.week.starts_on)


@require_GET
@owner_only
def built(request: HttpRequest, plan: int) -> HttpResponseBase:
    """How far a plan is, as a piece of the page; when it is done the page is loaded anew."""
    row = get_object_or_404(WeekPlan, pk=plan)
    if row.state in _AT_WORK:
        return render(request, "owner/progress.html", {"told": progress.told(row)})
    answer = HttpResponse(status=200)
    answer["HX-Redirect"] = reverse("week-of", args=[row.week.starts_on])
    return answer
