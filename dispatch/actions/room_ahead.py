"""The weeks ahead at a glance: hours promised against hours there are, and from when there is room for more."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import clock, rates
from dispatch.records.models import DayOff, Duty, Job, Outfit, Stage, Visit
from dispatch.trade.buffer import poured

WEEKS = 6
_SEARCHED_DAYS = 120
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class WeekAhead:
    """A week from its Monday: labour-minutes there are, those planned, and those promised or fixed to it without a visit yet.

    ``jobs`` are those promised to end in it; ``fixed`` are its appointments to the minute.
    """

    starts_on: date
    there_minutes: float
    planned_minutes: float
    promised_minutes: float
    jobs: tuple[Job, ...]
    fixed: tuple[Job, ...]

    @property
    def taken_minutes(self) -> float:
        """What is planned or promised."""
        return self.planned_minutes + self.promised_minutes

    @property
    def holds_anything(self) -> bool:
        """Whether somebody is there, or something is planned or promised."""
        return bool(self.there_minutes or self.taken_minutes or self.jobs or self.fixed)

    @property
    def share(self) -> float | None:
        """The part that is taken; None where nobody is there."""
        return self.taken_minutes / self.there_minutes if self.there_minutes else None


def days_there(first: date, count: int) -> dict[date, float]:
    """Labour-minutes that people are on duty, by date, of so many days."""
    duties = list(Duty.objects.filter(person__active=True).order_by())
    last = first + count * _ONE_DAY
    away = {
        (row.person_id, row.on): row
        for row in DayOff.objects.filter(
            person__active=True, on__gte=first, on__lt=last
        )
    }
    found: dict[date, float] = {}
    for number in range(count):
        day = first + number * _ONE_DAY
        usual = [
            (duty.start, duty.end)
            for duty in duties
            if duty.weekday == day.weekday() and (duty.person_id, day) not in away
        ]
        # Whoever has other hours that day is there for those, as the week's build has it.
        other = [(row.start, row.end) for (_, on), row in away.items() if on == day]
        found[day] = sum(_minutes(*span) for span in (*usual, *other))
    return found


def _minutes(start: time | None, end: time | None) -> float:
    if start is None or end is None:
        return 0.0
    return (end.hour - start.hour) * 60.0 + end.minute - start.minute


def labour(job: Job) -> float:
    """Labour-minutes still to be done of a job, by one way of it, without visits that are posted."""
    stages = [
        stage
        for stage in job.stages.all()
        if stage.state != Stage.State.DONE and not stage.extra
    ]
    ways = {stage.variant for stage in stages if stage.variant}
    way = "as-she-lies" if "as-she-lies" in ways else min(ways, default="")
    return sum(
        sum(float(step["labour_minutes"]) for step in stage.steps)
        for stage in stages
        if not hasattr(stage, "visit") and stage.variant in ("", way)
    )


def weeks(count: int = WEEKS) -> tuple[WeekAhead, ...]:
    """What is left of the week that is now, unless nothing is, and those after it."""
    zone = _zone()
    today = clock.now().astimezone(zone).date()
    monday = today - today.weekday() * _ONE_DAY
    left = (count + 1) * 7 - today.weekday()
    there, planned = days_there(today, left), _planned(today, left, zone)
    jobs = _open()
    found = tuple(
        _week(monday + 7 * n * _ONE_DAY, (there, planned), jobs, zone)
        for n in range(count + 1)
    )
    return found[:count] if found[0].holds_anything else found[1:]


def unpromised() -> tuple[Job, ...]:
    """Jobs in the book with work left that is neither posted nor promised to a day nor fixed to a minute."""
    return tuple(
        job
        for job in _open()
        if job.promised_by is None and job.fixed_start is None and labour(job)
    )


def _week(
    monday: date,
    minutes: tuple[Mapping[date, float], Mapping[date, float]],
    jobs: Sequence[Job],
    zone: ZoneInfo,
) -> WeekAhead:
    there, planned = minutes
    days = [monday + n * _ONE_DAY for n in range(7)]
    mine = [job for job in jobs if _on(_last(job), zone) in days]
    fixed = [job for job in jobs if _on(job.fixed_start, zone) in days]
    return WeekAhead(
        starts_on=monday,
        there_minutes=sum(there.get(day, 0.0) for day in days),
        planned_minutes=sum(planned.get(day, 0.0) for day in days),
        promised_minutes=sum(labour(job) for job in mine),
        jobs=tuple(mine),
        fixed=tuple(fixed),
    )


def _last(job: Job) -> datetime | None:
    return job.fixed_start or job.promised_by


def _on(moment: datetime | None, zone: ZoneInfo) -> date | None:
    return moment.astimezone(zone).date() if moment else None


def room_for(minutes: float, *, less: float = 0.0) -> tuple[date, date] | None:
    """The first and the last day on which so many labour-minutes fit behind all that is in the book; None beyond four months.

    By hours alone: shade, sky, skills and drives are the planner's to weigh. ``less`` is what in the book is the
    work itself.
    """
    zone = _zone()
    first = clock.now().astimezone(zone).date() + _ONE_DAY
    full = rates.board().full_day_pct / 100
    planned = _planned(first, _SEARCHED_DAYS, zone)
    there = days_there(first, _SEARCHED_DAYS)
    free = {
        day: max(0.0, most * full - planned.get(day, 0.0))
        for day, most in there.items()
    }
    ahead = max(0.0, sum(map(labour, _open())) - less)
    return poured(free, ahead=ahead, minutes=minutes)


def _planned(first: date, days: int, zone: ZoneInfo) -> dict[date, float]:
    """Labour-minutes of posted visits that are not done, by date."""
    found: dict[date, float] = {}
    rows: Iterable[Visit] = (
        Visit.objects.filter(
            van_day__on__gte=first, van_day__on__lt=first + days * _ONE_DAY
        )
        .exclude(stage__state=Stage.State.DONE)
        .prefetch_related("van_day__team")
    )
    for visit in rows:
        day = visit.start.astimezone(zone).date()
        team = len(visit.van_day.team.all())
        minutes = (visit.end - visit.start).total_seconds() / 60 * team
        found[day] = found.get(day, 0.0) + minutes
    return found


def _open() -> list[Job]:
    states = (Job.State.AGREED, Job.State.IN_HAND)
    rows = Job.objects.filter(state__in=states).select_related("boat", "kind")
    return list(rows.prefetch_related("stages__visit"))


def _zone() -> ZoneInfo:
    return ZoneInfo(Outfit.objects.get().time_zone)
