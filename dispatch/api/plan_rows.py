"""A plan as its shapes want it: the planner's minutes as moments, its ids with names."""

from datetime import date, datetime, timedelta
from typing import Any

from dispatch.records.models import Stage, WeekPlan

Row = dict[str, Any]
_NOTHING_YET: Row = {
    "phase": "done",
    "cost": None,
    "bound": None,
    "steps": None,
    "boats": [],
    "unjudged": [],
}


def short(plan: WeekPlan) -> Row:
    """A plan in short, by the shape ``Plan``."""
    names = _names(plan)
    return {
        "id": plan.pk,
        "week": plan.week.starts_on,
        "asked_by": plan.asked_by.username if plan.asked_by else None,
        "progress": _NOTHING_YET | plan.progress if plan.progress else None,
        "cost": plan.plan.get("cost"),
        "bound": plan.plan.get("bound"),
        "unplaced": [
            {"code": row["code"], "why": row["why"]} | _stage(names, row["stage"])
            for row in plan.plan.get("unplaced", ())
        ],
        **{
            name: getattr(plan, name)
            for name in (
                "state",
                "fault",
                "asked_at",
                "built_at",
                "posted_at",
                "seconds",
                "seed",
                "on_version",
                "stop_asked",
            )
        },
    }


def whole(plan: WeekPlan) -> Row:
    """A whole plan, by the shape ``WholePlan``."""
    names = _names(plan)
    zero = plan.zero_at
    days = plan.plan.get("van_days", ()) if zero else ()
    return short(plan) | {
        "chosen": plan.plan.get("chosen", {}),
        "van_days": [
            _van_day(plan.week.starts_on, zero, names, row) for row in days if zero
        ],
    }


def _names(plan: WeekPlan) -> dict[str, Stage]:
    """The stages a plan speaks of, by their names in it."""
    stops = [stop for day in plan.plan.get("van_days", ()) for stop in day["stops"]]
    told = [*stops, *plan.plan.get("unplaced", ())]
    jobs = {row["stage"].partition(".")[0] for row in told if "stage" in row}
    rows = Stage.objects.filter(job__key__in=jobs).select_related("job__boat")
    return {str(stage): stage for stage in rows}


def _stage(names: dict[str, Stage], key: str) -> Row:
    """A stage by its key, with its names; one that is gone since keeps its key."""
    stage = names.get(key)
    return {
        "stage": key,
        "boat": stage.job.boat.name if stage else key,
        "name": stage.name if stage else key,
    }


def _van_day(first: date, zero: datetime, names: dict[str, Stage], row: Row) -> Row:
    def at(minute: int | None) -> datetime | None:
        return None if minute is None else zero + timedelta(minutes=minute)

    rest = row["break"] or (None, None)
    stops = [
        stop | {"start": at(stop["start"]), "end": at(stop["end"])}
        for stop in row["stops"]
    ]
    return {
        "van": row["van"],
        "on": first + timedelta(days=row["day"]),
        "team": row["team"],
        "depart": at(row["depart"]),
        "back": at(row["back"]),
        "break_start": at(rest[0]),
        "break_end": at(rest[1]),
        "visits": [
            stop | _stage(names, stop["stage"])
            for stop in stops
            if stop["do"] == "visit"
        ],
        "tows": [
            {
                "equipment": stop["trailer"],
                "origin": stop["from"],
                "destination": stop["to"],
                "start": stop["start"],
                "end": stop["end"],
            }
            for stop in stops
            if stop["do"] == "tow"
        ],
    }
