"""The owner has a boat's wet film covered, hears that it is, and has the cover taken off again."""

from collections.abc import Callable
from datetime import date
from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from dispatch.actions import board_reading, clock, covered, covers, crew_told, struck
from dispatch.actions.board import Board
from dispatch.actions.board_words import when
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Cover, Job, WeekPlan
from dispatch.web.gate import owner_only


def lines(board: Board) -> list[dict[str, Any]]:
    """Each cover that is asked for or on: whose boat, in words, who is told of it, and whether gusts let it stand."""
    found = []
    for cover in covered.standing().values():
        said = f"{covered.name(cover)}, asked for {when(cover.asked_at, board.zone)}"
        if cover.on_at:
            said = f"{covered.name(cover)} is over her since {when(cover.on_at, board.zone)}"
        elif cover.by_when:
            said += f", to be on by {when(cover.by_when, board.zone)}; not on yet as far as is known"
        row = {"cover": cover, "boat": cover.job.boat.name, "says": said}
        row["told"] = "" if cover.on_at else crew_told.says(cover)
        found.append(row | {"gust": struck.of(cover)})
    return found


@require_POST
@owner_only
def ask(request: HttpRequest, starts_on: date, job: str) -> HttpResponseBase:
    """Ask for a cover over her."""
    row = get_object_or_404(Job.objects.select_related("boat__place"), key=job)
    shown = request.POST.get("plan", "")
    plan = get_object_or_404(WeekPlan, pk=int(shown) if shown.isdecimal() else 0)

    def act() -> str:
        reading = board_reading.read(plan)
        made = covers.ask(reading, row, request.POST.get("roof", ""), by=_by(request))
        return f"Asked for: {covered.name(made)} over {row.boat.name}. It stands on the crew's pages. {crew_told.says(made)}"

    return _done(request, starts_on, act)


@require_POST
@owner_only
def on(request: HttpRequest, starts_on: date, pk: int) -> HttpResponseBase:
    """The owner has seen that she is covered."""
    by = _by(request)
    return _done(
        request,
        starts_on,
        lambda: covers.is_on(_cover(pk), by.get_username(), clock.now(), by=by),
    )


@require_POST
@owner_only
def off(request: HttpRequest, starts_on: date, pk: int) -> HttpResponseBase:
    """Take it off, or take back that it was asked for."""
    return _done(request, starts_on, lambda: covers.off(_cover(pk), by=_by(request)))


def _by(request: HttpRequest) -> Account:
    return cast("Account", request.user)


def _cover(pk: int) -> Cover:
    rows = Cover.objects.select_related("equipment", "job__boat__place")
    return get_object_or_404(rows, pk=pk)


def _done(
    request: HttpRequest, starts_on: date, act: Callable[[], str]
) -> HttpResponseBase:
    try:
        messages.success(request, act())
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)
