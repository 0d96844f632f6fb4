"""What holds a visit where it is, what other days would cost, and moving it there in a draft."""

from collections.abc import Iterator
from datetime import date
from typing import Any, cast
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from dispatch.actions import (
    begun,
    by_hand,
    clock,
    moves,
    show_why,
    timeline,
    visit_sky,
)
from dispatch.actions.board_words import between, lasting, names, when
from dispatch.actions.errors import Refused
from dispatch.actions.moves import Bound, Holds, Price
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Account, Person, Pin, Stage, Van, WeekPlan
from dispatch.web.gate import owner_only
from dispatch.web.owner import asked_week, hand

Side = tuple[str, str, list[tuple[str, str]]]


@require_GET
@owner_only
def shown(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Show what holds a stage's visit; with ``?price`` also what every day to come would cost."""
    row, plan = _found(request, stage)
    zone = ZoneInfo(row.job.boat.place.time_zone)
    held: Holds | None = None
    days: list[tuple[Price, str]] = []
    fault = ""
    try:
        held = moves.holds(plan, stage)
        if held is not None and "price" in request.GET:
            days = [(day, _priced(day, zone)) for day in moves.prices(plan, stage)]
    except Refused as refusal:
        fault = str(refusal)
    return render(
        request,
        "owner/moves.html",
        {
            "stage": stage,
            "monday": plan.week.starts_on,
            "row": row,
            "draft": plan.state == WeekPlan.State.DRAFT,
            "held": held,
            "fault": fault,
            "span": between(held.span, zone) if held else "",
            "sooner": lasting(held.sooner) if held else "",
            "later": lasting(held.later) if held else "",
            "sides": _sides(held, zone) if held else (),
            "sky": _sky(row, held),
            "days": days,
            "may_move": bool(days) and not moves.begun(plan),
            **_by_hand(request, plan, stage),
        },
    )


def _sky(row: Stage, held: Holds | None) -> str:
    """What the sky that is known now says against a visit's hours, which were set by the sky the week was built on."""
    says = visit_sky.of(row, held.span, clock.now()) if held else None
    if says is None or says.likely or says.word == visit_sky.ALLOWS:
        return ""
    known = (
        "The newest sky forbids these hours."
        if says.word == visit_sky.FORBIDS
        else "The sky of these hours is not known."
    )
    return f"{known} {says.why} What follows is by the sky the week was built on."


def _by_hand(request: HttpRequest, plan: WeekPlan, stage: str) -> dict[str, Any]:
    """What the forms need to put it elsewhere, and the answer where one was tried."""
    if not plan.plan:
        return {"plan": plan}
    line = timeline.of(plan.week)
    here = next(_stops(plan, stage), None)
    team = here[0]["team"] if here else []
    day = line.dates[here[0]["day"]] if here else line.dates[0]
    start = line.moment(here[1]["start"]).astimezone(line.zone) if here else None
    found: dict[str, Any] = {
        "plan": plan,
        "vans": Van.objects.filter(active=True),
        "people": Person.objects.filter(active=True),
        "team": Person.objects.filter(key__in=team),
        "week_days": line.dates,
        "at": {
            "van": here[0]["van"] if here else "",
            "day": day,
            "time": f"{start:%H:%M}" if start else "08:00",
            "team": team,
        },
        "pinned": _pinned(stage, line),
    }
    called = {van.key: van.name for van in found["vans"]}
    found["van_name"] = called.get(found["at"]["van"], "")
    if here:
        found |= _gone(plan, here[0]["van"], day, line)
    return found | _tried(request, plan, stage, line)


def _gone(plan: WeekPlan, van: str, on: date, line: Timeline) -> dict[str, Any]:
    """Of a van that has left on a day: when, with whom, and till when; and the vans still at their base."""
    left = begun.gone(plan.week, on)
    if van not in left:
        return {}
    day = left[van].day
    here = Van.objects.filter(active=True).exclude(key__in=left)
    return {
        "gone": {
            "out": left[van].out,
            "with": names([person.name for person in day.team.all()]),
            "since": when(day.depart, line.zone),
            "until": when(day.back, line.zone),
            "others": names(list(here.values_list("name", flat=True))),
        }
    }


def _stops(plan: WeekPlan, stage: str) -> Iterator[tuple[Any, Any]]:
    for row in plan.plan["van_days"]:
        yield from ((row, one) for one in row["stops"] if one.get("stage") == stage)


def _pinned(stage: str, line: Timeline) -> str:
    job, _, key = stage.partition(".")
    pin = Pin.objects.filter(stage__job__key=job, stage__key=key).first()
    return f"to {pin.van.name}, {when(pin.start, line.zone)}" if pin else ""


def _tried(
    request: HttpRequest, plan: WeekPlan, stage: str, line: Timeline
) -> dict[str, Any]:
    if "at" not in request.GET:
        return {}
    try:
        asked = hand.Asked.of(request.GET, line.zone)
        answer = by_hand.try_put(plan, stage, asked.van, asked.start, team=asked.team)
    except Refused as refusal:
        return {"fault": str(refusal)}
    sent = [(name, one) for name, rows in request.GET.lists() for one in rows]
    local = asked.start.astimezone(line.zone)
    at = {
        "van": asked.van.key,
        "day": local.date(),
        "time": f"{local:%H:%M}",
        "team": request.GET.getlist("who"),
    }
    return {"tried": hand.words(answer), "asked": sent, "at": at}


@require_POST
@owner_only
def take(request: HttpRequest, stage: str) -> HttpResponseBase:
    """Make a draft with the visit on another day, and show that week."""
    _, plan = _found(request, stage)
    here = asked_week.to("moves", stage, plan.week.starts_on)
    try:
        on = date.fromisoformat(request.POST.get("on", ""))
        moves.take(plan, stage, on, by=cast("Account", request.user))
    except ValueError:
        messages.error(request, "That is no day. Pick one of the days on this page.")
        return redirect(here)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect(here)
    messages.success(
        request, f"This draft has it on {on:%A}. Nobody is told until you post it."
    )
    return redirect("week-of", starts_on=plan.week.starts_on)


def _found(request: HttpRequest, stage: str) -> tuple[Stage, WeekPlan]:
    """The stage, and the plan of the week asked for: its draft, or what stands."""
    try:
        row = show_why.stage_named(stage)
    except Refused as refusal:
        raise Http404(str(refusal)) from refusal
    week, plans = asked_week.of(request.GET, row)
    return row, plans.draft or plans.standing or WeekPlan(week=week)


def _sides(held: Holds, zone: ZoneInfo) -> tuple[Side, ...]:
    """What keeps it from sooner and from later: a heading, an id, and the lines, what binds first."""
    before = [_line(bound, zone, "sooner") for bound in held.before]
    after = [_line(bound, zone, "later") for bound in held.after]
    return (
        ("What keeps it from starting sooner", "sooner", before),
        ("What keeps it from starting later", "later", after),
    )


def _line(bound: Bound, zone: ZoneInfo, side: str) -> tuple[str, str]:
    """The sentence, and the start it allows where that is not the visit's own."""
    at = when(bound.at, zone)
    limit = f"Allows {at}, {lasting(bound.minutes)} {side}."
    if bound.wish:
        limit = f"Beyond {at} it costs money; no rule forbids it."
    elif not bound.minutes:
        limit = "This binds."
    return bound.sentence, limit


def _priced(day: Price, zone: ZoneInfo) -> str:
    """When it would be that day and what the week would cost, in words."""
    if day.cents is None:
        return day.why_not
    amount = f"${abs(day.cents) / 100:,.2f}"
    words = f"The week would cost {amount} {'more' if day.cents > 0 else 'less'}."
    if not day.cents:
        words = "The week would cost the same."
    if day.span:
        words = f"{between(day.span, zone)}. {words}"
    if day.lost:
        words += f" No visit any more: {', '.join(day.lost)}."
    return words
