"""The owner changes the week by hand: puts a visit elsewhere, makes it fast, swaps who rides, leaves a boat out, takes back."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any, cast
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from dispatch.actions import bumps, by_hand, by_hand_rows, pins, show_why, timeline
from dispatch.actions.by_hand import Answer
from dispatch.actions.by_hand_rows import Crossed
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Job, Person, Van, Week, WeekPlan
from dispatch.web import sent_back
from dispatch.web.gate import owner_only
from dispatch.web.owner import asked_week

_NEXT = "Nobody is told until you post it."
_WHERE = ("van", "day", "at", "who")


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Where a visit is to be put, as the form says it; the team where that van has none that day."""

    van: Van
    start: datetime
    team: tuple[Person, ...]

    @classmethod
    def of(cls, sent: QueryDict, zone: ZoneInfo) -> "Asked":
        """Read a form.

        Raises:
            Refused: the van, the day or the time is missing or none.
        """
        van = Van.objects.filter(key=sent.get("van", "")).first()
        if van is None:
            raise Refused("Choose a van. Nothing was changed.")
        try:
            on = date.fromisoformat(sent.get("day", ""))
            at = time.fromisoformat(sent.get("at", ""))
        except ValueError as error:
            raise Refused(
                "Enter a day and a time, as 14:30. Nothing was changed."
            ) from error
        team = tuple(Person.objects.filter(key__in=sent.getlist("who"), active=True))
        return cls(van=van, start=datetime.combine(on, at, tzinfo=zone), team=team)


def words(answer: Answer) -> dict[str, Any]:
    """An answer as the page shows it: it fits, it fits for so much, or it springs back and why."""
    amount = f"${abs(answer.cents) / 100:,.2f}"
    cost = "The week costs the same."
    if answer.cents:
        cost = f"The week costs {amount} {'more' if answer.cents > 0 else 'less'}."
    return {"answer": answer, "cost": cost if answer.fits else ""}


@require_POST
@owner_only
def put(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Put a visit at a van, a day and a time."""
    plan, by = _plan(request), cast("Account", request.user)

    def act() -> str:
        zone = timeline.of(plan.week).zone
        asked = Asked.of(request.POST, zone)
        made = by_hand.put(plan, stage, asked.van, asked.start, by=by, team=asked.team)
        return f"{made.by_hand} {_NEXT}"

    return _done(request, plan, stage, act)


@require_POST
@owner_only
def swap(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Have somebody else ride a van's day."""
    plan, by = _plan(request), cast("Account", request.user)

    def act() -> str:
        van = Van.objects.filter(key=request.POST.get("van", "")).first()
        out = Person.objects.filter(key=request.POST.get("out", "")).first()
        into = Person.objects.filter(key=request.POST.get("into", "")).first()
        if van is None or out is None or into is None:
            raise Refused("Choose who stays and who goes instead. Nothing was changed.")
        days = timeline.of(plan.week).dates
        on = request.POST.get("day", "")
        if on not in (str(one) for one in days):
            raise Refused("That is no day of this week. Load the page again.")
        day = [str(one) for one in days].index(on)
        made = by_hand.swap(plan, van, day, out, into, by=by)
        return f"{made.by_hand} {_NEXT}"

    return _done(request, plan, stage, act)


@require_POST
@owner_only
def fast(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Make a visit fast where it is, or cast it off."""
    plan, by = _plan(request), cast("Account", request.user)

    def act() -> str:
        if "off" in request.POST:
            pins.cast_off(plan, stage, by=by)
            return "It may be moved again."
        pins.make_fast(plan, stage, by=by)
        return "Made fast: no plan moves it until you cast it off."

    return _done(request, plan, stage, act, to="moves")


@require_POST
@owner_only
def leave_out(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Leave a boat's job out of the week."""
    plan, by = _plan(request), cast("Account", request.user)

    def act() -> str:
        job = show_why.stage_named(stage).job
        made = bumps.leave_out(plan, job, by=by, why=request.POST.get("why", ""))
        return f"{made.by_hand} {_NEXT}"

    return _done(request, plan, stage, act)


@require_POST
@owner_only
def take_in(request: HttpRequest, starts_on: date, job: str) -> HttpResponseBase:
    """Let a job that was left out be planned in the week again."""
    week, row = (
        get_object_or_404(Week, starts_on=starts_on),
        get_object_or_404(Job, key=job),
    )
    try:
        bumps.take_in(week, row, by=cast("Account", request.user))
        messages.success(
            request,
            f"{row.boat.name} may be planned again. Build the week, or plan the rest anew.",
        )
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=starts_on)


@require_POST
@owner_only
def undo(request: HttpRequest, plan: int) -> HttpResponseBase:
    """Take the last change by hand back, or all that stand."""
    row, by = get_object_or_404(WeekPlan, pk=plan), cast("Account", request.user)
    told = (by_hand_rows.said(row), *by_hand_rows.earlier(row))
    try:
        if "all" in request.POST:
            by_hand_rows.undo_all(row, by=by)
            messages.success(request, f"All {len(told)} taken back. {' '.join(told)}")
        else:
            by_hand_rows.undo(row, by=by)
            messages.success(request, f"Taken back. {told[0]}")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("week-of", starts_on=row.week.starts_on)


def _plan(request: HttpRequest) -> WeekPlan:
    """The plan that the page showed."""
    shown = request.POST.get("plan", "")
    return get_object_or_404(
        WeekPlan.objects.select_related("week"),
        pk=int(shown) if shown.isdecimal() else 0,
    )


def _done(
    request: HttpRequest,
    plan: WeekPlan,
    stage: str,
    act: Callable[[], str],
    to: str = "week-of",
) -> HttpResponseBase:
    """Do it and say so; where somebody else was first, show both and offer to do it again.

    What is refused goes back to the page of the visit with what was entered.
    """
    page = asked_week.to("moves", stage, plan.week.starts_on)
    try:
        messages.success(request, act())
    except Crossed as crossed:
        context = both(request, crossed, _whose(request, stage))
        return render(request, "owner/crossed.html", context, status=409)
    except Refused as refusal:
        form = "swap" if "into" in request.POST else "leave-out"
        tried = _tried(request.POST)
        return sent_back.to(request, f"{page}{tried}", "" if tried else form, refusal)
    return redirect(page if to == "moves" else _week(plan))


def _tried(sent: QueryDict) -> str:
    """Where a visit was to be put, as the page of the visit tries it; empty where something else was asked."""
    asked = [(name, one) for name in _WHERE for one in sent.getlist(name)]
    return f"&{urlencode(asked)}#elsewhere" if "at" in sent else ""


def _week(plan: WeekPlan) -> str:
    return reverse("week-of", args=[plan.week.starts_on])


def _whose(request: HttpRequest, stage: str) -> str:
    """What somebody else was first with: the boat, or the week where who rides was to be changed."""
    if "into" in request.POST:
        return "this week"
    return show_why.stage_named(stage).job.boat.name


def both(
    request: HttpRequest, crossed: Crossed, boat: str, mine: str = ""
) -> dict[str, Any]:
    """What two people asked for, for the page that shows both; ``mine`` where the form does not say it itself."""
    again = [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if name not in ("csrfmiddlewaretoken", "plan")
    ]
    return {
        "crossed": crossed,
        "again": again,
        "boat": boat,
        "mine": mine or _mine(dict(again)),
    }


def _mine(sent: dict[str, str]) -> str:
    """What the second writer asked for, in a few words."""
    van = Van.objects.filter(key=sent.get("van", "")).first()
    called = van.name if van else "a van"
    if "at" in sent:
        return f"put it on {sent.get('day', '')} at {sent['at']} with {called}"
    if "why" in sent:
        return f"leave her out: {sent['why']}"
    return f"change who rides in {called} on {sent.get('day', '')}"
