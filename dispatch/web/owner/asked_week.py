"""Which week a stage's own pages are about: the week of the board that led there, else the one that has its visit."""

from datetime import date, timedelta

from django.http import Http404, QueryDict
from django.urls import reverse

from dispatch.records.models import Stage, Visit, Week, WeekPlan
from dispatch.web.owner.week import Plans, plans_of, this_monday

_FARTHEST = timedelta(days=1000)


def of(sent: QueryDict, stage: Stage) -> tuple[Week, Plans]:
    """The week asked for by ``week``, or that of the stage's visit, planned or posted, or this one; and its plans."""
    said = sent.get("week")
    week = _with(stage) if said is None else _asked(said)
    return week, plans_of(week)


def to(page: str, stage: str, monday: date) -> str:
    """The address of a stage's page about a week."""
    return f"{reverse(page, args=[stage])}?week={monday}"


def _asked(said: str) -> Week:
    try:
        monday = date.fromisoformat(said)
    except ValueError as error:
        raise Http404(f"{said} is no day. Write it as 2027-05-24.") from error
    if abs(monday - this_monday()) > _FARTHEST:
        raise Http404(f"The week of {monday} is too far away to be planned.")
    return _row(monday)


def _row(monday: date) -> Week:
    return Week.objects.filter(starts_on=monday).first() or Week(starts_on=monday)


def _with(stage: Stage) -> Week:
    """The first week from this one on whose board has a visit of it, else that of its posted visit, else this week."""
    monday = this_monday()
    name = f"{stage.job.key}.{stage.key}"
    for week in Week.objects.filter(starts_on__gte=monday).order_by("starts_on"):
        plans = plans_of(week)
        if _visits(plans.draft or plans.standing, name):
            return week
    whole = Visit.objects.select_related("van_day__plan__week")
    long_ones = ("van_day__plan__problem", "van_day__plan__plan")
    posted = whole.defer(*long_ones).filter(stage=stage).first()
    return posted.van_day.plan.week if posted else _row(monday)


def _visits(plan: WeekPlan | None, name: str) -> bool:
    rows = plan.plan.get("van_days", ()) if plan else ()
    return any(stop.get("stage") == name for row in rows for stop in row["stops"])
