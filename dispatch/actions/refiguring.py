"""Reckon jobs in the book again when rates, settings or the catalogue have changed."""

from dataclasses import dataclass

from django.db import transaction

from dispatch.actions import due, history, links, stages, turns
from dispatch.actions.recipes import Recipe
from dispatch.records.models import Job, Stage, StageLink

_REFIGURED = (
    "family",
    "steps",
    "minutes",
    "needs",
    "gear",
    "supplies",
    "product_ml",
)


@dataclass(frozen=True, kw_only=True)
class Pair:
    """A stage of the book, and the same as it would be made now."""

    recipe: Recipe
    stands: Stage
    would_be: Stage

    @property
    def differs(self) -> bool:
        """Whether it would be made otherwise now."""
        return any(
            getattr(self.stands, name) != getattr(self.would_be, name)
            for name in _REFIGURED
        )


def ask(kind_key: str = "") -> None:
    """Leave it to the worker to reckon again the jobs of one kind, or all of them."""
    due.put("refigure-book", kind_key or "all")


def waiting(kind_key: str) -> list[str]:
    """Keys of the jobs in the book, of one kind or of ``all``."""
    jobs = Job.objects.filter(state__in=(Job.State.AGREED, Job.State.IN_HAND))
    chosen = jobs if kind_key == "all" else jobs.filter(kind__key=kind_key)
    return list(chosen.values_list("key", flat=True))


@transaction.atomic
def refigure(job: Job) -> int:
    """Reckon a job's stages again, save those posted, begun or done; return how many changed.

    Stages are neither added nor taken away, and the sky is asked again about those that changed.

    Raises:
        Refused: what ``stages.make`` refuses; the job keeps what it has.
    """
    found = pairs(job)
    open_pairs = [pair for pair in found if _open(pair.stands)]
    changed = [pair for pair in open_pairs if pair.differs]
    for pair in changed:
        take_over(pair)
    waits = _refigure_waits(found, {pair.stands.pk for pair in open_pairs})
    if changed or waits:
        _tell(job, changed, waits)
    turns.aim(job)
    return len(changed)


def take_over(pair: Pair) -> None:
    """Have a stage that nobody began take what it would now, and ask the sky about it again."""
    values = {name: getattr(pair.would_be, name) for name in _REFIGURED}
    Stage.objects.filter(pk=pair.stands.pk, state=Stage.State.TO_DO).update(**values)
    due.put("judge-stage", str(pair.stands.pk))


def pairs(job: Job) -> list[Pair]:
    """A job's stages, each beside the same as it would be made now.

    Raises:
        Refused: what ``stages.make`` refuses.
    """
    standing = {stage.key: stage for stage in job.stages.select_related("visit")}
    return [
        Pair(recipe=recipe, stands=standing[stage.key], would_be=stage)
        for recipe, stage in stages.drawn(job)
        if stage.key in standing
    ]


def _open(stage: Stage) -> bool:
    """Neither posted nor begun."""
    return stage.state == Stage.State.TO_DO and not hasattr(stage, "visit")


def _refigure_waits(pairs: list[Pair], open_keys: set[int]) -> int:
    """Set the waits before open stages anew; return how many changed."""
    changed = 0
    for link in links.drawn([(pair.recipe, pair.stands) for pair in pairs]):
        if link.stage_id in open_keys:
            new = {
                "min_minutes": link.min_minutes,
                "min_ref_h": link.min_ref_h,
                "max_minutes": link.max_minutes,
            }
            rows = StageLink.objects.filter(
                stage_id=link.stage_id, before_id=link.before_id
            )
            changed += rows.exclude(**new).update(**new)
    return changed


def _tell(job: Job, changed: list[Pair], waits: int) -> None:
    before = sum(_labour(pair.stands) for pair in changed)
    after = sum(_labour(pair.would_be) for pair in changed)
    parts = []
    if changed:
        parts.append(
            f"{len(changed)} of its stages, from {before:.0f} to {after:.0f} labour-minutes"
        )
    if waits:
        parts.append(f"{waits} of its waits")
    sentence = (
        f"Reckoned {job.boat.name} again by the new rates: {' and '.join(parts)}."
    )
    history.write("refigure", f"job {job.key}", sentence, actor="planner")


def _labour(stage: Stage) -> float:
    return sum(float(step["labour_minutes"]) for step in stage.steps)
