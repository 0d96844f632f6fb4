"""A job as its shapes want it: stages with windows, vetoes and what was planned."""

from datetime import timedelta
from typing import Any

from dispatch.actions import access, clock, windows
from dispatch.records.models import Job, Stage, Visit
from dispatch.trade.spans import Span
from dispatch.trade.window import Window

_AHEAD = timedelta(days=7)


def whole(job: Job) -> dict[str, Any]:
    """The members a whole job has beside those of its row."""
    span = Span(clock.now(), clock.now() + _AHEAD)
    stages = (
        job.stages.order_by("position")
        .select_related("job__boat__place", "sheet")
        .prefetch_related("judged", "vetoes", "links__before")
    )
    planned = {
        visit.stage_id: visit
        for visit in Visit.objects.filter(stage__job=job).select_related("van_day__van")
    }
    return {
        "customer_word": access.boat_link(job),
        "stages": [_stage(stage, span, planned.get(stage.pk)) for stage in stages],
    }


def _stage(stage: Stage, span: Span, visit: Visit | None) -> dict[str, Any]:
    done = stage.state == Stage.State.DONE
    faults = [row.fault for row in stage.judged.all() if row.fault]
    known = windows.against(stage, span) is not None
    own = (
        "key name variant extra family cover panels state started_at ended_at "
        "minutes product_ml gear"
    )
    return {name: getattr(stage, name) for name in own.split()} | {
        "after": [
            {
                "stage": link.before.key,
                "min_minutes": link.min_minutes,
                "min_ref_h": link.min_ref_h,
                "max_minutes": link.max_minutes,
            }
            for link in stage.links.all()
        ],
        "planned": _planned(visit) if visit else None,
        "sky": "known" if known else "unknown",
        "sky_fault": " ".join(faults),
        "windows": []
        if done
        else [_window(found) for found in windows.of(stage, span)],
        "vetoes": sorted(stage.vetoes.all(), key=lambda veto: veto.start),
    }


def _window(found: Window) -> dict[str, Any]:
    return {
        "start": found.span.start,
        "end": found.span.end,
        "before": found.before.sentence if found.before else None,
        "after": found.after.sentence if found.after else None,
    }


def _planned(visit: Visit) -> dict[str, Any]:
    return {
        "van": visit.van_day.van.key,
        "start": visit.start,
        "end": visit.end,
        "sky_says": visit.sky_says,
        "spoilt": visit.spoilt,
    }
