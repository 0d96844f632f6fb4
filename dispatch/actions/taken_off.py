"""A job's visits ahead taken out of the posted weeks; a trip of a van that is left with nothing to do goes with them."""

from collections.abc import Iterable, Mapping
from typing import Any

from dispatch.actions import clock, feeds, slips, still, timeline, visits_off
from dispatch.records.models import (
    Hold,
    Job,
    Notice,
    Pin,
    Stage,
    VanDay,
    Visit,
    WeekPlan,
)

Row = Mapping[str, Any]


def off(job: Job, *, tell: bool = True) -> int:
    """Take a job's visits ahead off; return how many. Whoever was told of them is told, unless a new week is to tell it.

    Raises:
        Refused: everything is held still, and there are some.
    """
    ahead = Visit.objects.filter(stage__job=job, stage__state=Stage.State.TO_DO)
    names = {str(one.stage) for one in ahead.select_related("stage__job")}
    if names:
        still.refuse()
    Pin.objects.filter(stage__job=job).delete()
    plans = list(WeekPlan.objects.filter(van_days__visits__in=ahead).distinct())
    ahead.delete()
    for plan in plans:
        _close(plan, names)
    Hold.objects.filter(stage__job=job, planned=True).delete()
    Notice.objects.filter(
        job=job, state=Notice.State.WAITING, reason__in=slips.AHEAD
    ).update(state=Notice.State.DROPPED)
    if tell:
        visits_off.all_off(job)
    if names:
        feeds.later()
    return len(names)


def counted(off: int) -> str:
    """How many visits were taken off, as a sentence with the blank before it; empty where none was."""
    if not off:
        return ""
    visits = "1 posted visit was" if off == 1 else f"{off} posted visits were"
    return f" {visits} taken off."


def _close(plan: WeekPlan, gone: set[str]) -> None:
    """Take stages out of a posted plan, and its trips still to come that have neither a visit nor a tow left."""
    now = clock.now()
    idle = plan.van_days.filter(visits=None, tows=None, depart__gt=now)
    VanDay.objects.filter(pk__in=list(idle.values_list("pk", flat=True))).delete()
    minute = timeline.of(plan.week).minute(now)
    rows = [_without(row, gone) for row in plan.plan.get("van_days", ())]
    kept = [row for row in rows if row["stops"] or row["depart"] <= minute]
    plan.plan = {**plan.plan, "van_days": kept}
    plan.save(update_fields=["plan"])


def _without(row: Row, gone: Iterable[str]) -> dict[str, Any]:
    stops = [stop for stop in row["stops"] if stop.get("stage") not in gone]
    return {**row, "stops": stops}
