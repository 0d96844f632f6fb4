"""What a customer is told of a visit ahead of it: two working days, the evening before, that morning; and a year after.

Each is put down when a week is posted, to be sent by the clock, and is judged again by the rows as they are then.
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import announcing, clock, old_sky, rates, slips, visits_off
from dispatch.notices import outbox, words
from dispatch.notices.reasons import Ahead, Arrival, Morning, Reason, Yearly
from dispatch.records.models import DueWork, Job, Notice, Place, Visit, WeekPlan

_NOT_KNOWN = "no forecast tells of it yet"
_WORKING_DAYS = 2
_SATURDAY = 5
# That morning nobody needs telling who is about to be rung at the door.
_LEAST_NOTICE = timedelta(minutes=45)
OF_VISITS = (Reason.AHEAD, Reason.ARRIVAL, Reason.MORNING)


def week(plan: WeekPlan) -> None:
    """Put the messages about each visit of a posted week in the outbox; tell of visits that moved or are no more.

    What waits about visits in other weeks stays.
    """
    kept: set[str] = set()
    for (_, on), visits in announcing.by_day(plan).items():
        job, fact = visits[0].stage.job, f"visit {on}"
        kept.add(f"{job.key} {fact}")
        if not _begun(job, plan, on):
            _ahead(job, visits, fact)
            _arrival(job, visits, fact)
            _morning(job, visits, fact)
    outbox.drop(OF_VISITS, days=slips.days(plan.week), keep=kept)
    visits_off.fallen_out(plan)


def _begun(job: Job, plan: WeekPlan, on: str) -> bool:
    """Whether the crew has been there that day: of what is begun the customer knows."""
    others = Visit.objects.filter(stage__job=job, van_day__on=on)
    return others.exclude(van_day__plan=plan).exists()


def yearly(job: Job) -> None:
    """Put the message that a year has gone by since a boat was finished in the outbox."""
    now = clock.now()
    zone = ZoneInfo(job.boat.place.time_zone)
    finished_on = now.astimezone(zone).date()
    occasion = Yearly(about=announcing.about(job), finished_on=finished_on)
    at = now + timedelta(days=rates.customers().yearly_days)
    announcing.put(job, occasion, "yearly", at)


def afresh(notice: Notice) -> str:
    """Word a message about a visit anew, by the rows as they are; return why it is not to go out, or nothing."""
    if notice.reason not in OF_VISITS or notice.job is None:
        return ""
    visits = standing(notice)
    if not visits:
        return "The visit it tells of does not stand any more."
    wording = words.write(_occasion(notice.reason, notice.job, visits))
    notice.subject = wording.subject
    notice.body = wording.text if notice.channel == "text" else wording.letter
    Notice.objects.filter(pk=notice.pk).update(subject=notice.subject, body=notice.body)
    return ""


def waits_for_the_sky(notice: Notice, now: datetime) -> bool:
    """Whether a new forecast is being judged that what it tells hangs on, and there is time to wait for it."""
    if notice.reason != Reason.ARRIVAL or notice.job is None or not notice.begins_at:
        return False
    wait = timedelta(minutes=rates.customers().eve_wait_minutes)
    stages = [str(pk) for pk in notice.job.stages.values_list("pk", flat=True)]
    judged = DueWork.objects.filter(
        verb="judge-stage", key__in=stages, done_at__isnull=True
    )
    return now < _eve(notice.job, notice.begins_at) + wait and judged.exists()


def standing(notice: Notice) -> list[Visit]:
    """The visits of the day that a message tells of, as they stand now."""
    on = notice.fact.rpartition(" ")[2]
    rows = Visit.objects.filter(
        stage__job=notice.job, van_day__plan__state=WeekPlan.State.STANDING
    ).select_related("stage__job__boat__place", "van_day")
    return [row for row in rows.order_by("start") if str(row.van_day.on) == on]


def _occasion(
    reason: str, job: Job, visits: Sequence[Visit]
) -> Ahead | Arrival | Morning:
    told, doubt = announcing.arrives(visits[0]), _doubt(job.boat.place, visits)
    if reason == Reason.ARRIVAL:
        return announcing.arrival(visits, doubt=doubt)
    kind = Ahead if reason == Reason.AHEAD else Morning
    return kind(about=announcing.about(job), arrives=told, doubt=doubt)


def _doubt(place: Place, visits: Sequence[Visit]) -> str:
    """Why the sky may not allow a day's visits, in the words of the first that it may not; what is not known is a doubt.

    While the forecast is too old nothing is told by it.
    """
    outside = any(visit.stage.family != "any" for visit in visits)
    if outside and old_sky.too_old(place, clock.now()):
        return _NOT_KNOWN
    doubtful = [v for v in visits if v.sky_says != Visit.Sky.ALLOWS]
    if not doubtful:
        return ""
    return doubtful[0].spoilt or _NOT_KNOWN


def _ahead(job: Job, visits: Sequence[Visit], fact: str) -> None:
    first, zone = visits[0].start, ZoneInfo(job.boat.place.time_zone)
    day = _working_days_before(first.astimezone(zone).date(), _WORKING_DAYS)
    minutes = rates.customers().ahead_clock
    at = datetime.combine(day, clock.of_day(minutes), tzinfo=zone)
    if at > clock.now():
        announcing.put(job, _occasion(Reason.AHEAD, job, visits), fact, at, short=True)


def _arrival(job: Job, visits: Sequence[Visit], fact: str) -> None:
    """The evening before; where it was told and does not hold any more, that it moved, at once."""
    occasion, before = announcing.arrival(visits), slips.told(job, fact)
    if before is None:
        announcing.put(job, occasion, fact, _eve(job, visits[0].start))
    elif slips.holds(before, occasion.arrives):
        slips.withdraw(job, fact)
    else:
        slips.moved(job, occasion, fact)


def _eve(job: Job, begins: datetime) -> datetime:
    """The hour of the evening before at which people are told, by the place's clock."""
    zone = ZoneInfo(job.boat.place.time_zone)
    eve = begins.astimezone(zone).date() - timedelta(days=1)
    return datetime.combine(eve, clock.of_day(rates.customers().eve_clock), tzinfo=zone)


def _morning(job: Job, visits: Sequence[Visit], fact: str) -> None:
    first, zone = visits[0].start, ZoneInfo(job.boat.place.time_zone)
    minutes = rates.customers().morning_clock
    day = first.astimezone(zone).date()
    at = datetime.combine(day, clock.of_day(minutes), tzinfo=zone)
    allowed = announcing.allowed(Reason.MORNING, job.boat.customer, at)
    if clock.now() < at and allowed + _LEAST_NOTICE <= first:
        announcing.put(
            job, _occasion(Reason.MORNING, job, visits), fact, at, short=True
        )


def _working_days_before(day: date, count: int) -> date:
    """So many days earlier, Saturdays and Sundays not counted."""
    while count:
        day -= timedelta(days=1)
        count -= day.weekday() < _SATURDAY
    return day
