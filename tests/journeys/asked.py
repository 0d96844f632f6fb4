"""The week problem that the tables ask, cut down to a few stages, and where a plan puts them."""

from datetime import datetime

from dispatch.actions import book, snapshot
from dispatch.records.models import Job, Week, WeekPlan
from tests.actions import plans

DAY = 1440


def problem_of_the_week() -> dict:
    """Return the week problem of the tables as they stand."""
    week, _ = Week.objects.get_or_create(starts_on=plans.MONDAY)
    return snapshot.of(week)


def keep_stages(problem: dict, *ids: str) -> dict:
    """Leave only these stages, and what they wait for among them."""
    problem["stages"] = [stage for stage in problem["stages"] if stage["id"] in ids]
    for stage in problem["stages"]:
        stage["after"] = [one for one in stage["after"] if one["stage"] in ids]
    return problem


def done_by(job: Job, moment: datetime, *keys: str) -> None:
    """Mark these visits of a boat sprayed as she lies done, all at one moment."""
    for key in keys:
        stage = job.stages.get(key__in=(key, f"{key}-as-she-lies"))
        book.mark_done(stage, started_at=None, ended_at=moment)


def row(problem: dict, stage: str) -> dict:
    """Return a stage's row."""
    return next(one for one in problem["stages"] if one["id"] == stage)


def visits(plan: dict) -> dict[str, tuple[dict, dict]]:
    """Return van-day and stop of each visit by stage."""
    return {
        stop["stage"]: (vd, stop)
        for vd in plan["van_days"]
        for stop in vd["stops"]
        if stop["do"] == "visit"
    }


def rest_left_out(plan: WeekPlan) -> WeekPlan:
    """Have a draft list as left out what it has no visit for, as a plan of the planner's does."""
    there = {stop["stage"] for day in plan.plan["van_days"] for stop in day["stops"]}
    plan.plan["unplaced"] = [
        {"stage": row["id"], "code": "no-room", "why": "x"}
        for row in plan.problem["stages"]
        if row["id"] not in there and row["variant"] in (None, "as-she-lies")
    ]
    plan.save()
    return plan
