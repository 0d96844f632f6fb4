"""What was done as a week posted before had it: a phone without signal tells of it after the owner has moved the work."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from dispatch.actions import board_words, history, holds, timeline, visit_sky
from dispatch.actions.snapshot_stages import key
from dispatch.actions.timeline import Timeline
from dispatch.records.models import (
    Account,
    Person,
    Stage,
    Van,
    VanDay,
    Visit,
    Week,
    WeekPlan,
)
from dispatch.trade.spans import Span

_LONGEST_WEEK = timedelta(days=14)
_POSTED = (WeekPlan.State.STANDING, WeekPlan.State.PAST)


@dataclass(frozen=True, kw_only=True)
class Sent:
    """The van-day of a posted plan, by its contract, that had a person do a stage, and when."""

    week: Week
    on: date
    row: Mapping[str, Any]
    span: Span


def found(stage: Stage, person: Person, at: datetime) -> Sent | None:
    """The newest posted plan, standing or replaced, that sent a person to a stage on the day of a moment."""
    on = _date(stage, at)
    plans = WeekPlan.objects.filter(
        state__in=_POSTED,
        week__starts_on__lte=on,
        week__starts_on__gt=on - _LONGEST_WEEK,
    ).select_related("week")
    for plan in plans.order_by("-posted_at", "-asked_at"):
        line = timeline.of(plan.week)
        for row in plan.plan.get("van_days", ()):
            span = _span(line, row, on, key(stage))
            if span is not None and person.key in row["team"]:
                return Sent(week=plan.week, on=on, row=row, span=span)
    return None


def stands_elsewhere(stage: Stage, visit: Visit | None, at: datetime) -> bool:
    """Whether a stage's visit, if it has one, is on another day than a moment."""
    return visit is None or visit.van_day.on != _date(stage, at)


def bring_back(
    stage: Stage, visit: Visit | None, sent: Sent, person: Person, by: Account | None
) -> Visit:
    """Put a stage's visit back to the day it was done on, as the person was sent; the history has both.

    Nothing else moves: what was done wins over what was planned since, and only of this stage.
    """
    history.write(
        "done-as-sent",
        f"job {stage.job.key}",
        f"{person.name} tells of {stage.name} on {stage.job.boat.name} as it was posted before, {_when(stage, sent.span.start)}; "
        f"since then {_since(stage, visit)}. What was done stands.",
        by=by,
        actor=person.name,
    )
    left = visit.van_day if visit else None
    says = visit_sky.of(stage, sent.span, sent.span.start)
    back = Visit(
        pk=visit.pk if visit else None,
        stage=stage,
        van_day=_van_day(sent, person),
        start=sent.span.start,
        end=sent.span.end,
        sky_says=says.word,
        spoilt=says.why,
    )
    back.save()
    holds.write(stage, sent.span.end, planned=True)
    if left and not left.visits.exists() and not left.tows.exists():
        left.delete()
    return back


def _span(line: Timeline, row: Mapping[str, Any], on: date, name: str) -> Span | None:
    if not 0 <= row["day"] < len(line.dates) or line.dates[row["day"]] != on:
        return None
    stops = (stop for stop in row["stops"] if stop.get("stage") == name)
    stop = next(stops, None)
    if stop is None:
        return None
    return Span(line.moment(stop["start"]), line.moment(stop["end"]))


def _van_day(sent: Sent, person: Person) -> VanDay:
    """The van-day that stands for a person's day, or for the van they went with; one as it was sent where neither stands."""
    plan = sent.week.plans.get(state=WeekPlan.State.STANDING)
    days = VanDay.objects.filter(plan=plan, on=sent.on)
    stands = (
        days.filter(team=person).first()
        or days.filter(van__key=sent.row["van"]).first()
    )
    if stands is not None:
        return stands
    line = timeline.of(sent.week)
    made = VanDay.objects.create(
        plan=plan,
        van=Van.objects.get(key=sent.row["van"]),
        on=sent.on,
        depart=line.moment(sent.row["depart"]),
        back=line.moment(sent.row["back"]),
    )
    made.team.set(Person.objects.filter(key__in=sent.row["team"]))
    return made


def _date(stage: Stage, at: datetime) -> date:
    return at.astimezone(ZoneInfo(stage.job.boat.place.time_zone)).date()


def _when(stage: Stage, at: datetime) -> str:
    return board_words.when(at, ZoneInfo(stage.job.boat.place.time_zone))


def _since(stage: Stage, visit: Visit | None) -> str:
    if visit is None:
        return "it had been left out"
    return f"it had been put to {_when(stage, visit.start)} with {visit.van_day.van}"
