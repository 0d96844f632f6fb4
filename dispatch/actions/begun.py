"""Van-days of a posted week that have left: what was done, is under way, or is taken to go as planned."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from dispatch.actions import clock, held_for_owner
from dispatch.actions.snapshot_stages import key
from dispatch.records.models import Stage, Tow, VanDay, Visit, Week, WeekPlan
from dispatch.trade.spans import Span

How = Literal["done", "under-way", "as-planned"]
_LEAST = timedelta(minutes=5)


@dataclass(frozen=True, kw_only=True)
class Stay:
    """One visit of a van-day that has left; ``as-planned`` where nobody has told of it and its hour has come."""

    stage: Stage
    span: Span
    how: How

    @property
    def name(self) -> str:
        """The stage's name in a week problem."""
        return key(self.stage)


@dataclass(frozen=True, kw_only=True)
class Left:
    """A van-day that has left, what it did up to now in order of time, and whether it is still out."""

    day: VanDay
    stays: tuple[Stay, ...]
    tows: tuple[Tow, ...]
    out: bool


def of(week: Week) -> tuple[Left, ...]:
    """The van-days of a posted week that have left by now, the earliest first; none where no week stands."""
    now = clock.now()
    rows = VanDay.objects.filter(
        plan__week=week, plan__state=WeekPlan.State.STANDING
    ).select_related("van__base")
    rows = rows.prefetch_related(
        "team__days_off",
        "van__days_off",
        "visits__stage__job__boat__place",
        "visits__stage__sheet",
        "visits__stage__holds",
        "visits__stage__shut_outs",
        "tows__equipment",
        "tows__origin",
        "tows__destination",
    )
    found = (_left(day, now) for day in rows.order_by("on", "depart"))
    return tuple(left for left in found if left is not None)


def gone(week: Week, on: date) -> dict[str, Left]:
    """The van-days of a date that have left, by the van."""
    return {left.day.van.key: left for left in of(week) if left.day.on == on}


def is_under_way(week: Week) -> bool:
    """Whether a van of a week that stands has left, so that only the rest of it can be planned."""
    return bool(week.pk and of(week))


def _left(day: VanDay, now: datetime) -> Left | None:
    visits = sorted(day.visits.all(), key=lambda visit: visit.start)
    begun = [v for v in visits if v.stage.state != Stage.State.TO_DO]
    if not begun and (day.depart > now or _stayed(day)):
        return None
    today = day.depart <= now < day.depart + timedelta(days=1) and day.back > now
    out = today or any(_runs(visit, now) for visit in begun)
    stays = tuple(_stays(visits, now, today=_same_day(day, now)))
    tows = tuple(tow for tow in day.tows.all() if tow.start < now)
    return (
        Left(day=day, stays=stays, tows=tows, out=out) if stays or tows or out else None
    )


def _same_day(day: VanDay, now: datetime) -> bool:
    """Whether now is the day's date: by the hours since it left, whatever the zone."""
    return now - day.depart < timedelta(hours=20)


def _stayed(day: VanDay) -> bool:
    """Whether the van cannot have left: it is off the road that day, or somebody of its team is away all of it."""
    off = any(row.on == day.on for row in day.van.days_off.all())
    return off or any(
        row.on == day.on and row.start is None
        for person in day.team.all()
        for row in person.days_off.all()
    )


def _runs(visit: Visit, now: datetime) -> bool:
    return visit.stage.state == Stage.State.UNDER_WAY and _same_day(visit.van_day, now)


def _stays(visits: list[Visit], now: datetime, *, today: bool) -> Iterator[Stay]:
    """What was reported; of what was not, what its hour has come for and nothing later than it was begun."""
    running = any(_runs(visit, now) for visit in visits)
    for number, visit in enumerate(visits):
        stage = visit.stage
        if stage.state == Stage.State.DONE:
            yield Stay(stage=stage, span=took(visit), how="done")
        elif stage.state == Stage.State.UNDER_WAY and today:
            span = _until_the_next(takes(visit, now), visits[number + 1 :])
            yield Stay(stage=stage, span=span, how="under-way")
        elif stage.state == Stage.State.TO_DO and held_for_owner.was_left(visit):
            continue
        elif stage.state == Stage.State.TO_DO and today and visit.start < now:
            later = any(
                v.stage.state != Stage.State.TO_DO for v in visits[number + 1 :]
            )
            if later or not running:
                span = Span(visit.start, visit.end)
                yield Stay(stage=stage, span=span, how="as-planned")


def _until_the_next(span: Span, later: list[Visit]) -> Span:
    """A visit that nobody has told the end of was over when the team began the one after it."""
    starts = [v.stage.started_at for v in later if v.stage.started_at]
    if not starts:
        return span
    return Span(span.start, max(min(starts), span.start + timedelta(minutes=1)))


def took(visit: Visit) -> Span:
    """When a finished visit was; where nobody noted its start, as long as was planned."""
    end = visit.stage.ended_at or visit.end
    start = visit.stage.started_at or end - (visit.end - visit.start)
    return Span(start, max(end, start + timedelta(minutes=1)))


def takes(visit: Visit, now: datetime) -> Span:
    """A visit under way: from when it was started, as long as was planned or told since, and not over before now."""
    start = visit.stage.started_at or visit.start
    return Span(start, max(now + _LEAST, start + (visit.end - visit.start)))


def unheard(week: Week) -> tuple[str, ...]:
    """Visits of days gone by that were started and never reported done, as sentences: they are planned again."""
    now = clock.now()
    rows = Visit.objects.filter(
        van_day__plan__week=week, stage__state=Stage.State.UNDER_WAY
    ).select_related("stage__job__boat", "van_day")
    return tuple(
        f"{visit.stage.name} on {visit.stage.job.boat.name} was started and never reported done, so it is planned again. Report it done if it is."
        for visit in rows
        if not _same_day(visit.van_day, now)
    )
