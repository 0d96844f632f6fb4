"""What takes a job that was left out of a week by hand in again: a plan of that week that has visits of it to come."""

from django.db.models import F

from dispatch.actions.snapshot_stages import key
from dispatch.records.models import Bump, Job, Stage, WeekPlan


def in_again(plan: WeekPlan) -> None:
    """Take back what a week leaves out of the jobs that a plan of it, now posted or gone back to, has visits of to come."""
    planned = {
        stop.get("stage")
        for row in plan.plan.get("van_days", ())
        for stop in row["stops"]
    }
    to_come = Stage.objects.filter(
        state=Stage.State.TO_DO, job__bumps__week=plan.week
    ).select_related("job")
    jobs = {stage.job_id for stage in to_come if key(stage) in planned}
    for bump in Bump.objects.filter(week=plan.week, job__in=jobs):
        Job.objects.filter(pk=bump.job_id, bumped__gt=0).update(bumped=F("bumped") - 1)
        bump.delete()


def left_aside(draft: WeekPlan) -> None:
    """The same for the plan that a draft's changes by hand were made of: the draft is left aside."""
    base = draft
    while base.by_hand and base.origin is not None and base.posted_at is None:
        base = base.origin
    if base != draft:
        in_again(base)
