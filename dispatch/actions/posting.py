"""A plan as rows that people can be told from: van-days, visits, tows, holds."""

from collections.abc import Iterable, Mapping
from typing import Any
from zoneinfo import ZoneInfo

from django.core.exceptions import ObjectDoesNotExist
from django.db.models import QuerySet

from dispatch.actions import (
    bump_rows,
    clock,
    facts,
    feeds,
    holds,
    reminders,
    timeline,
    visit_sky,
)
from dispatch.actions.board_words import dated
from dispatch.actions.errors import Stale
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
from dispatch.trade.spans import Span

Row = Mapping[str, Any]


def write(plan: WeekPlan) -> int:
    """Write a plan's rows in place of the standing ones, in the caller's transaction; return the visits.

    Visits begun or done stay, with the van and the team that did them.

    Raises:
        Stale: something the plan speaks of was done, moved to another week or taken out since it was built.
    """
    line = timeline.of(plan.week)
    _make_way(plan)
    kept = _kept(plan)
    stages = {key(stage): stage for stage in _to_come(plan)}
    Hold.objects.filter(planned=True, stage__in=list(stages.values())).delete()
    try:
        count = sum(_van_day(plan, line, row, stages) for row in plan.plan["van_days"])
    except ObjectDoesNotExist as error:
        raise Stale(
            "A van, a place or a piece of equipment of this draft was taken out since it was built. Build it again."
        ) from error
    # Before what is begun or done is carried over: of that the customers know.
    reminders.week(plan)
    for day in kept:
        _carry(day, plan)
    feeds.later()
    return count


def _to_come(plan: WeekPlan) -> QuerySet[Stage]:
    """The open stages, but for those a week under way has begun: their visits stay as they are."""
    begun = Stage.objects.filter(
        state=Stage.State.UNDER_WAY, visit__van_day__plan__week=plan.week
    )
    if plan.problem.get("frozen"):
        return facts.open_stages().exclude(pk__in=begun)
    return facts.open_stages()


def _make_way(plan: WeekPlan) -> None:
    """Check that every stage may be planned here, and let go of visits of weeks gone by that were not done."""
    wanted = _visits(plan.plan["van_days"]) - _visits(plan.problem.get("frozen", ()))
    bump_rows.in_again(plan)
    stages = {name: row for row in facts.open_stages() if (name := key(row)) in wanted}
    for name, stage in stages.items():
        _check_minute(name, stage, plan)
    for name in sorted(wanted - set(stages)):
        raise Stale(
            f"{name} was done or taken out since this draft was built. Build it again."
        )
    others = Visit.objects.filter(stage__in=stages.values()).exclude(
        van_day__plan__week=plan.week
    )
    ahead = others.filter(end__gt=clock.now()).first()
    if ahead is not None:
        raise Stale(
            f"{ahead.stage} stands in {ahead.van_day.plan.week} already. Build that week again without it first."
        )
    others.delete()


def _check_minute(name: str, stage: Stage, plan: WeekPlan) -> None:
    """Refuse a draft that was built before a stage's appointment was moved."""
    if stage.fixed_start is None:
        return
    minute = timeline.of(plan.week).minute(stage.fixed_start)
    stops = (stop for row in plan.plan["van_days"] for stop in row["stops"])
    if any(s["start"] != minute for s in stops if s.get("stage") == name):
        zone = ZoneInfo(stage.job.boat.place.time_zone)
        raise Stale(
            f"The appointment of {stage.job.boat.name} is {dated(stage.fixed_start, zone)} now, and this draft has it otherwise. Build it again."
        )


def _visits(van_days: Iterable[Row]) -> set[str]:
    return {
        stop["stage"]
        for row in van_days
        for stop in row["stops"]
        if stop["do"] == "visit"
    }


def _kept(plan: WeekPlan) -> list[VanDay]:
    """Take out what the week had posted and nobody has begun; return the van-days of the rest."""
    days = VanDay.objects.filter(plan__week=plan.week)
    Visit.objects.filter(van_day__in=days, stage__state=Stage.State.TO_DO).delete()
    Tow.objects.filter(van_day__in=days, end__gt=clock.now()).delete()
    days.filter(visits=None).delete()
    return list(days)


def _carry(day: VanDay, plan: WeekPlan) -> None:
    """Take a van-day that was begun over into a new plan; where another team rides that van then, it stays behind."""
    new = VanDay.objects.filter(plan=plan, van=day.van, on=day.on).first()
    if not day.visits.exists():
        day.delete()
    elif new is None:
        VanDay.objects.filter(pk=day.pk).update(plan=plan)
    elif set(new.team.all()) == set(day.team.all()):
        day.visits.update(van_day=new)
        day.tows.update(van_day=new)
        VanDay.objects.filter(pk=new.pk).update(
            depart=min(day.depart, new.depart), back=max(day.back, new.back)
        )
        day.delete()


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
        and (stop["stage"] in stages or not _is_frozen(plan, row))
    ]
    for stop in row["stops"]:
        if stop["do"] == "tow" and not _was_made(plan, line, stop):
            _tow(line, day, stop)
    for visit in visits:
        holds.write(visit.stage, visit.end, planned=True)
    return len(visits)


def _is_frozen(plan: WeekPlan, row: Row) -> bool:
    frozen = plan.problem.get("frozen", ())
    return any((one["van"], one["day"]) == (row["van"], row["day"]) for one in frozen)


def _was_made(plan: WeekPlan, line: Timeline, stop: Row) -> bool:
    """Whether a move is kept already with the van-day that made it."""
    return Tow.objects.filter(
        van_day__plan__week=plan.week,
        equipment__key=stop["trailer"],
        start__lte=line.moment(stop["start"]),
        end__gt=line.moment(stop["start"]),
    ).exists()


def _visit(
    line: Timeline, day: VanDay, stop: Row, stages: Mapping[str, Stage]
) -> Visit:
    stage = stages[stop["stage"]]
    asked = Span(line.moment(stop["start"]), line.moment(stop["end"]))
    says = visit_sky.of(stage, asked, clock.now())
    Visit.objects.filter(stage=stage).delete()
    return Visit.objects.create(
        stage=stage,
        van_day=day,
        start=asked.start,
        end=asked.end,
        sky_says=says.word,
        spoilt=says.why,
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
