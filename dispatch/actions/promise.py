"""What a customer may be promised for a job, by what is planned of it and by the days each side may be sprayed."""

from dataclasses import dataclass
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from dispatch.actions import clock, rates, windows
from dispatch.records.models import Duty, Job, Stage, Visit
from dispatch.trade import promising
from dispatch.trade.promising import Slip
from dispatch.trade.spans import Span

_AHEAD = timedelta(days=9)


@dataclass(frozen=True, kw_only=True)
class MayPromise:
    """The days to promise, None while nothing is posted; ``spray_days`` before a hard date, None where nothing is sprayed."""

    days: tuple[date, date] | None
    sprays: bool
    by: date
    spray_days: int | None
    hard_may: bool


def of(job: Job) -> MayPromise:
    """What may be promised as the posted visits and the forecast stand."""
    zone = ZoneInfo(job.boat.place.time_zone)
    today = clock.now().astimezone(zone).date()
    until = (
        job.promised_by
        if job.promise == Job.Promise.HARD and job.promised_by
        else clock.now() + _AHEAD
    )
    span = Span(clock.now(), until) if until > clock.now() else None
    days = _spray_days(job, span, zone) if span else None
    return MayPromise(
        days=_range(job, today, zone),
        sprays=_to_spray(job).exists(),
        by=until.astimezone(zone).date(),
        spray_days=days,
        hard_may=days is None or promising.hard_date_may_be_given(days),
    )


def _range(job: Job, today: date, zone: ZoneInfo) -> tuple[date, date] | None:
    rows = Visit.objects.filter(stage__job=job, stage__extra=False)
    spans = list(
        rows.exclude(stage__state=Stage.State.DONE).values_list("start", "end")
    )
    if not spans:
        return None
    slip = rates.promises()
    return promising.range_of(
        (
            min(start for start, _ in spans).astimezone(zone).date(),
            max(end for _, end in spans).astimezone(zone).date(),
        ),
        sprays=_to_spray(job).exists(),
        made_on=today,
        weekdays=frozenset(Duty.objects.values_list("weekday", flat=True)) or range(7),
        slip=Slip(
            near_days=round(slip.near_days),
            far_days=round(slip.far_days),
            far_after_days=round(slip.far_after_days),
        ),
    )


def _to_spray(job: Job) -> QuerySet[Stage]:
    return job.stages.filter(family="spray").exclude(state=Stage.State.DONE)


def _spray_days(job: Job, span: Span, zone: ZoneInfo) -> int | None:
    """The days on which a side may be sprayed, of the part and the way that has the fewest and the most of them."""
    best: dict[str, int] = {}
    for stage in _to_spray(job).select_related("job__boat__place", "sheet"):
        part = stage.key.partition("-")[0]
        found = {
            one.span.start.astimezone(zone).date() for one in windows.of(stage, span)
        }
        best[part] = max(best.get(part, 0), len(found))
    return min(best.values(), default=None)
