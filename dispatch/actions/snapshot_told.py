"""What people have been told of a standing week, as a week problem has it: changing it costs."""

from typing import Any

from dispatch.actions import rates
from dispatch.records.models import Stage, Visit, WeekPlan

Row = dict[str, Any]


def standing(problem: Row, plan: WeekPlan) -> Row:
    """The visits of a standing plan that are still to come, and its van-days as a hint to start from."""
    known = {row["id"] for row in problem["stages"]}
    frozen = _frozen(problem)
    rows = Visit.objects.filter(
        van_day__plan__week=plan.week, stage__state=Stage.State.TO_DO
    ).values_list("stage__job__key", "stage__key", "start")
    weights, zero = rates.planning(), plan.zero_at
    if zero is None:
        return problem | {"standing": None}
    visits = [
        {"stage": f"{job}.{stage}", "start": int((start - zero).total_seconds() // 60)}
        for job, stage, start in rows
    ]
    return problem | {
        "standing": {
            "visits": [
                row
                for row in visits
                if row["stage"] in known - frozen and row["start"] >= problem["now"]
            ],
            "van_days": [
                row for row in plan.plan["van_days"] if _may_hint(problem, row)
            ],
            "day_cents": round(weights.told_day_cents),
            "shift_cents": round(weights.told_shift_cents),
            "shift_cents_per_hour": round(weights.told_hour_cents),
            "tolerance_min": round(weights.told_within_minutes),
        }
    }


def _frozen(problem: Row) -> set[str]:
    stops = (stop for row in problem["frozen"] for stop in row["stops"])
    return {stop["stage"] for stop in stops if stop["do"] == "visit"}


def _may_hint(problem: Row, row: Row) -> bool:
    """Whether a van-day names only what the problem knows, and is not over."""
    stages = {stage["id"] for stage in problem["stages"]}
    trailers = {thing["id"] for thing in problem["trailers"]}
    places = {place["id"] for place in problem["places"]}
    named = all(
        stop["stage"] in stages
        if stop["do"] == "visit"
        else stop["trailer"] in trailers and {stop["from"], stop["to"]} <= places
        for stop in row["stops"]
    )
    return (
        named
        and row["back"] > problem["now"]
        and row["van"] in {van["id"] for van in problem["vans"]}
        and set(row["team"]) <= {person["id"] for person in problem["people"]}
    )
