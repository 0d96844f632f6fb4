"""Which stages a week may plan: open, in no other posted week, and of the way that was begun."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Prefetch, prefetch_related_objects

from dispatch.actions import clock, facts, held_for_owner
from dispatch.records.models import Job, Stage, StageLink, Visit, Week

_PLACE = ("job__boat__place__closures", "job__boat__place__access_hours")
_BESIDE = (*_PLACE, "job__boat__readings")


@dataclass(frozen=True, kw_only=True)
class Open:
    """The stages to plan; of those that are not, when the ones in another week end, and which are forgone.

    Stages of a way of doing the job are forgone once another way of it was begun, or stands in
    another week.
    """

    stages: tuple[Stage, ...]
    ends: Mapping[int, datetime]
    forgone: frozenset[int]


def of(week: Week) -> Open:
    """What a week may plan; visits gone by that were not done may be planned anew, jobs left out of it by hand or held for the owner not."""
    bumped = Job.objects.filter(bumps__week=week) if week.pk else Job.objects.none()
    rows = list(
        facts.open_stages()
        .exclude(job__kind__rows=None)
        .exclude(job__in=bumped)
        .exclude(job__in=held_for_owner.jobs())
        .distinct()
    )
    ahead = Visit.objects.filter(end__gt=clock.now()).exclude(van_day__plan__week=week)
    ends = dict(ahead.values_list("stage_id", "end"))
    taken = _ways_taken(rows, ends)
    forgone = frozenset(
        stage.pk
        for stage in rows
        if stage.variant
        and stage.variant not in taken.get(stage.job_id, (stage.variant,))
    )
    stages = [row for row in rows if row.pk not in ends and row.pk not in forgone]
    _read_beside(stages)
    return Open(
        stages=tuple(stages),
        ends=ends,
        forgone=forgone,
    )


def _read_beside(stages: list[Stage]) -> None:
    """Read what the sky, the rules and the stages before say of all of them at once: it is asked stage by stage."""
    before = StageLink.objects.select_related(
        "before__job__boat__place", "before__sheet"
    ).prefetch_related(*(f"before__{name}" for name in (*_BESIDE, "overrides")))
    prefetch_related_objects(
        stages,
        *_BESIDE,
        *("judged", "vetoes", "overrides", "pin__van"),
        Prefetch("links", queryset=before),
    )


def _ways_taken(rows: list[Stage], ends: Mapping[int, datetime]) -> dict[int, set[str]]:
    """By job, the ways of stages begun, done, or standing in another week."""
    taken: dict[int, set[str]] = {}
    jobs = {row.job_id for row in rows}
    for stage in Stage.objects.filter(job__in=jobs).exclude(variant=""):
        if stage.state != Stage.State.TO_DO or stage.pk in ends:
            taken.setdefault(stage.job_id, set()).add(stage.variant)
    return taken
