"""A plan as rows that people can be told from: van-days, visits, tows, holds."""

from collections.abc import Mapping
from typing import Any

from dispatch.actions import announcing, facts, rates, timeline
from dispatch.actions.snapshot_stages import key
from dispatch.actions.timeline import Timeline
from dispatch.records.models import (
    Equipment,
    Hold,
    Person,
    Place,
    Stage,
    Tow,
    Van,
    VanDay,
    Visit,
    WeekPlan,
)
from dispatch.trade import cure, samples
from dispatch.trade.spans import Span

Row = Mapping[str, Any]


def write(plan: WeekPlan) -> int:
    """Write a plan's rows in place of the standing ones, in the caller's transaction; return the visits."""
    line = timeline.of(plan.week)
    VanDay.objects.filter(plan__week=plan.week).delete()
    stages = {key(stage): stage for stage in facts.open_stages()}
    Hold.objects.filter(planned=True, stage__in=list(stages.values())).delete()
    count = sum(_van_day(plan, line, row, stages) for row in plan.plan["van_days"])
    announcing.week(plan)
    return count


def _van_day(
    plan: WeekPlan, line: Timeline, row: Row, stages: Mapping[str, Stage]
) -> int:
    rest = row["break"] or (None, None)
    day = VanDay.objects.create(
        plan=plan,
        van=Van.objects.get(key=row["van"]),
        on=line.dates[row["day"]],
        depart=line.moment(row["depart"]),
        back=line.moment(row["back"]),
        break_start=None if rest[0] is None else line.moment(rest[0]),
        break_end=None if rest[1] is None else line.moment(rest[1]),
    )
    day.team.set(Person.objects.filter(key__in=row["team"]))
    visits = [
        _visit(line, day, stop, stages)
        for stop in row["stops"]
        if stop["do"] == "visit"
    ]
    for stop in row["stops"]:
        if stop["do"] == "tow":
            _tow(line, day, stop)
    for visit in visits:
        _holds(visit)
    return len(visits)


def _visit(
    line: Timeline, day: VanDay, stop: Row, stages: Mapping[str, Stage]
) -> Visit:
    return Visit.objects.create(
        stage=stages[stop["stage"]],
        van_day=day,
        start=line.moment(stop["start"]),
        end=line.moment(stop["end"]),
    )


def _tow(line: Timeline, day: VanDay, stop: Row) -> None:
    Tow.objects.create(
        van_day=day,
        equipment=Equipment.objects.get(key=stop["trailer"]),
        origin=Place.objects.get(key=stop["from"]),
        destination=Place.objects.get(key=stop["to"]),
        start=line.moment(stop["start"]),
        end=line.moment(stop["end"]),
    )


def _holds(visit: Visit) -> None:
    """The film a visit lays: rain-safe and sandable, with their ranges, from its end on."""
    sheet = visit.stage.sheet
    if sheet is None:
        return
    wanted = (
        (Hold.Kind.RAIN_SAFE, sheet.rain_safe_ref_h),
        (Hold.Kind.SANDABLE, sheet.sandable_ref_h),
    )
    found = [(kind, ref_h) for kind, ref_h in wanted if ref_h is not None]
    surface = _surface(visit)
    for kind, ref_h in found:
        known = surface is not None and surface.start <= visit.end
        times = (
            cure.set_range(surface, visit.end, ref_h, sheet.cure_min_c)
            if surface and known
            else None
        )
        Hold.objects.create(
            stage=visit.stage,
            kind=kind,
            planned=True,
            start=visit.end,
            end=times.expected if times else None,
            earliest=times.earliest if times else None,
            latest=times.latest if times else None,
        )


def _surface(visit: Visit) -> cure.Surface | None:
    place = visit.stage.job.boat.place
    forecast = place.forecasts.order_by("-issued_at").first()
    last = forecast.hours.order_by("-at").first() if forecast else None
    if forecast is None or last is None or last.at <= visit.start:
        return None
    span = Span(visit.start, last.at)
    sky = facts.sky_of(forecast, span)
    return (
        samples.surface(facts.work(visit.stage, span, rates.limits()), sky)
        if sky
        else None
    )
