"""Where a visit is dropped on the board: whether it fits there, what that costs, or why it springs back."""

import math
from collections.abc import Iterator
from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from dispatch.actions import by_hand, timeline
from dispatch.actions.by_hand import Answer
from dispatch.actions.errors import Refused
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Person, Van, WeekPlan
from dispatch.web.gate import owner_only
from dispatch.web.owner import drawing, hand

_STEP_S = 300
_MOST_MINUTES = 20160
_OTHERS = 2  # vans asked beside its own; each is a question to the planner


@require_GET
@owner_only
def drop(request: HttpRequest, plan: int, stage: str) -> HttpResponseBase:
    """Tell what a drop does: at ``x`` of the sheet, or ``by`` so many minutes from where the visit is."""
    row = get_object_or_404(WeekPlan.objects.select_related("week"), pk=plan)
    line = timeline.of(row.week)
    try:
        here = _here(row, stage)
        start = _start(request, line, here)
        van, team, answer = _tried(row, stage, here, start)
    except Refused as refusal:
        return render(request, "owner/dropped.html", {"fault": str(refusal)})
    local = start.astimezone(line.zone)
    asked = [("van", van.key), ("day", f"{local:%Y-%m-%d}"), ("at", f"{local:%H:%M}")]
    asked += [("who", person.key) for person in team]
    tried = hand.words(answer)
    context = {"plan": row, "stage": stage, "tried": tried, "asked": asked}
    return render(request, "owner/dropped.html", context)


def _here(plan: WeekPlan, stage: str) -> tuple[dict[str, Any], int]:
    """The van-day that a visit is in, and the minute it starts."""
    for row in plan.plan.get("van_days", ()):
        for stop in row["stops"]:
            if stop.get("stage") == stage:
                return row, stop["start"]
    raise Refused("It has no visit in this plan any more. Load the page again.")


def _start(
    request: HttpRequest, line: Timeline, here: tuple[dict[str, Any], int]
) -> datetime:
    """The moment asked for, in steps of five minutes."""
    try:
        if "by" in request.GET:
            by = max(-_MOST_MINUTES, min(_MOST_MINUTES, int(request.GET["by"])))
            return line.moment(here[1] + by)
        x = float(request.GET.get("x", ""))
    except ValueError as error:
        raise Refused("That is no place on the board. Nothing was changed.") from error
    if not math.isfinite(x):
        raise Refused("That is no place on the board. Nothing was changed.")
    at = drawing.across(line.dates, line.zone).moment(x)
    steps = round(at.timestamp() / _STEP_S)
    return datetime.fromtimestamp(steps * _STEP_S, tz=at.tzinfo)


def _tried(
    plan: WeekPlan, stage: str, here: tuple[dict[str, Any], int], start: datetime
) -> tuple[Van, tuple[Person, ...], Answer]:
    """The first van that can have it then: its own, with its own team where it stands idle that day, then the likeliest others out."""
    first: tuple[Van, tuple[Person, ...], Answer] | None = None
    for van, team in _vans(plan, stage, here[0], start):
        answer = by_hand.try_put(plan, stage, van, start, team=team)
        if answer.fits:
            return van, team, answer
        first = first or (van, team, answer)
    if first is None:
        raise Refused("Its van is gone from the fleet. Choose another on its own page.")
    return first


def _vans(
    plan: WeekPlan, stage: str, here: dict[str, Any], start: datetime
) -> Iterator[tuple[Van, tuple[Person, ...]]]:
    line = timeline.of(plan.week)
    on = start.astimezone(line.zone).date()
    day = line.dates.index(on) if on in line.dates else -1
    out = _out(plan, stage, day, line.minute(start))
    own = () if here["van"] in out else here["team"]
    vans = {van.key: van for van in Van.objects.filter(active=True)}
    team = tuple(Person.objects.filter(key__in=own))
    if here["van"] in vans:
        yield vans[here["van"]], team
    if _open(plan, stage, line.minute(start)):
        others = [key for key in out if key != here["van"] and key in vans]
        yield from ((vans[key], ()) for key in others[:_OTHERS])


def _out(plan: WeekPlan, stage: str, day: int, start: int) -> list[str]:
    """The vans out on a day: first those that go to the boat's place anyway, then those that stand idle then."""
    places = {row["id"]: row["place"] for row in plan.problem["stages"]}

    def unlikely(row: dict[str, Any]) -> tuple[bool, bool, str]:
        stops = row["stops"]
        there = any(places.get(s.get("stage")) == places.get(stage) for s in stops)
        busy = any(stop["start"] <= start < stop["end"] for stop in stops)
        return (not there, busy, row["van"])

    rows = (row for row in plan.plan["van_days"] if row["day"] == day)
    return [row["van"] for row in sorted(rows, key=unlikely)]


def _open(plan: WeekPlan, stage: str, start: int) -> bool:
    """Whether the stage has hours then for the quickest team at all; else no other van can have it either."""
    row = next(row for row in plan.problem["stages"] if row["id"] == stage)
    end = start + min(row["minutes"].values())
    return any(first <= start and end <= last for first, last in row["windows"])
