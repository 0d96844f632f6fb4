"""Rules of the house that the planner does not know, judged on a finished plan before it may be posted."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from dispatch.actions import (
    barred,
    board_reading,
    half_days,
    hazards,
    one_moment,
    rates,
    timeline,
)
from dispatch.actions.timeline import Timeline
from dispatch.records.models import Person, Stage, VanDay, WeekPlan
from dispatch.trade import shifts
from dispatch.trade.shifts import Day, Hand, Objection, Stay
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

Row = Mapping[str, Any]


def objections(plan: WeekPlan) -> tuple[Objection, ...]:
    """Every rule of the house a draft breaks, the walls first; the posted days around its week count too."""
    if not plan.plan:
        return ()
    return one_moment.once(("objections", plan.pk), lambda: judged(plan))


def judged(plan: WeekPlan) -> tuple[Objection, ...]:
    """The same of a plan that is only tried: asked afresh each time."""
    line = timeline.of(plan.week)
    days = (*_around(plan, line), *_planned(plan, line))
    found = shifts.objections(
        days, _hands(line), rates.shifts(), Words(system=one_moment.outfit().units)
    )
    return (*found, *half_days.objections(plan, line))


def _hands(line: Timeline) -> Iterator[Hand]:
    for person in Person.objects.prefetch_related("skills"):
        hood = next((s for s in person.skills.all() if s.name == "hood"), None)
        yield Hand(
            name=person.name,
            years=barred.years(person, line.dates[0]),
            has_hood=hood is not None,
            fit_until=hood.fit_test_until if hood else None,
        )


def _planned(plan: WeekPlan, line: Timeline) -> Iterator[Day]:
    reading = board_reading.read(plan)
    zone = ZoneInfo(one_moment.outfit().time_zone)
    for row in plan.plan["van_days"]:
        team = tuple(reading.name(person) for person in row["team"])
        rest = row["break"]
        yield Day(
            on=line.dates[row["day"]],
            zone=zone,
            team=team,
            out=Span(line.moment(row["depart"]), line.moment(row["back"])),
            rest=Span(line.moment(rest[0]), line.moment(rest[1])) if rest else None,
            stays=tuple(_stays(line, row, reading.stages, team)),
        )


def _stays(
    line: Timeline, row: Row, stages: Mapping[str, Stage], team: Sequence[str]
) -> Iterator[Stay]:
    for stop in row["stops"]:
        stage = stages.get(stop.get("stage", ""))
        if stage is not None and stage.state != Stage.State.DONE:
            span = Span(line.moment(stop["start"]), line.moment(stop["end"]))
            yield _stay(stage, span, team)


def _stay(stage: Stage, span: Span, team: Sequence[str]) -> Stay:
    sprays = stage.family == "spray"
    return Stay(
        boat=stage.job.boat.name,
        place=stage.job.boat.place.key,
        span=span,
        team=tuple(team),
        sprays=sprays,
        isocyanate=barred.two_part(stage),
        solvent=hazards.uses_solvent(stage),
    )


def _around(plan: WeekPlan, line: Timeline) -> Iterator[Day]:
    """The posted days just before and after the week, for the rest between days."""
    beside = (
        line.dates[0] - timedelta(days=1),
        line.dates[-1] + timedelta(days=1),
    )
    rows = VanDay.objects.filter(on__in=beside, plan__state=WeekPlan.State.STANDING)
    zone = ZoneInfo(one_moment.outfit().time_zone)
    for row in rows.exclude(plan__week=plan.week).prefetch_related("team"):
        yield Day(
            on=row.on,
            zone=zone,
            team=tuple(person.name for person in row.team.all()),
            out=Span(row.depart, row.back),
            rest=None,
            stays=(),
            stands=True,
        )
