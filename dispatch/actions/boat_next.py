"""What comes next for a boat, as a range: an hour of arrival is told only from 07:00 of its day on."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import boat_strip, rates
from dispatch.records.models import Job, Stage, Visit

_TOLD_FROM = time(7)
_NOT_PLANNED = (Job.State.PUT_OFF, Job.State.CALLED_OFF, Job.State.ASKED)
# Fixed parts of a day, so that a part gives no hour away: those from which hour on, in words.
_PARTS = (
    (time(13), "in the afternoon, between 12:00 and 18:00"),
    (time(11), "about midday, between 10:00 and 14:00"),
    (time(0), "in the morning, before 12:00"),
)


def of(job: Job, now: datetime) -> str:
    """The next visit of the posted week as a sentence with its range; that there is none, where there is none."""
    if job.state in _NOT_PLANNED:
        return "Nothing is planned."
    if job.handed_back_at is not None:
        return f"Nothing more is planned; {_left_undone(job)}."
    visit = upcoming(job, now)
    if visit is None:
        return "The next visit has no day yet. We will tell you as soon as it has one."
    what = visit.stage.name[0].lower() + visit.stage.name[1:]
    may_move = (
        " The forecast no longer allows it then, so it will probably move; we will tell you the new day."
        if visit.sky_says == Visit.Sky.FORBIDS
        else " It depends on the weather; if it moves, we will tell you."
    )
    return f"Next, {_when(visit, now)}: {what}.{may_move}"


def _left_undone(job: Job) -> str:
    """What is said of a boat handed back: that her work is done, or which of it is not."""
    left = [
        stage.name[0].lower() + stage.name[1:]
        for stage in boat_strip.taken(job)
        if stage.state != Stage.State.DONE
    ]
    return f"not done: {', '.join(left)}" if left else "the work is done"


def upcoming(job: Job, now: datetime) -> Visit | None:
    """The first visit of the posted week that is neither begun nor past."""
    return (
        Visit.objects.filter(
            stage__job=job, stage__state=Stage.State.TO_DO, end__gt=now
        )
        .select_related("stage__job__boat__place")
        .order_by("start")
        .first()
    )


def promised(job: Job) -> str:
    """What was promised, in days; empty where nothing was, or the job is in no plan and so under no promise."""
    zone = ZoneInfo(job.boat.place.time_zone)
    if job.state in _NOT_PLANNED or job.handed_back_at is not None:
        return ""
    if job.promised_by is None:
        return ""
    by = job.promised_by.astimezone(zone)
    if job.promise == Job.Promise.HARD or job.promised_from is None:
        return f"We promised her for {_day(by)}."
    return f"We promised her between {_day(job.promised_from.astimezone(zone))} and {_day(by)}."


def _when(visit: Visit, now: datetime) -> str:
    zone = ZoneInfo(visit.stage.job.boat.place.time_zone)
    start, local = visit.start.astimezone(zone), now.astimezone(zone)
    if local.date() == start.date() and local.time() >= _TOLD_FROM:
        if start <= local:
            return "today, from any moment now"
        terms = rates.customers()
        first = start - timedelta(minutes=terms.before_minutes)
        last = start + timedelta(minutes=terms.after_minutes)
        return f"today between {first:%H:%M} and {last:%H:%M}"
    part = next(words for since, words in _PARTS if start.time() >= since)
    return f"{_day(start)} {part}"


def _day(local: datetime) -> str:
    return f"{local:%A} {local.day} {local:%B}"
