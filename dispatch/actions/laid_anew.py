"""A second coat that came too late: that part is scuffed, masked and laid anew, the rest of the boat is left alone."""

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import clock, coats, due, history, holds, rates, recoat, stages
from dispatch.actions.errors import Refused
from dispatch.records.models import (
    CatalogueRow,
    Hold,
    Laid,
    Outfit,
    Pin,
    Stage,
    StageLink,
    Visit,
)
from dispatch.trade import labour, limits
from dispatch.trade.words import Words

_MASKS = "spray-coat.port.mask"


def check() -> int:
    """Lay anew every visit under way whose second coat is not done and may no longer follow; return how many."""
    under_way = Stage.objects.filter(
        state=Stage.State.UNDER_WAY, flashes__gt=0, sheet__isnull=False
    ).select_related("job__boat__place", "job__kind", "job__sheet", "sheet")
    late = [stage for stage in under_way if too_late(stage, clock.now())]
    for stage in late:
        again(stage, recoat.first_ended(stage) or clock.now(), actor="sky")
    return len(late)


def too_late(stage: Stage, at: datetime) -> bool:
    """Whether a moment lies after the last one for a stage's second coat; where that is not known, nobody says so."""
    if not recoat.limited(stage):
        return False
    latest = recoat.latest(stage)
    return latest is not None and at > latest


@transaction.atomic
def again(stage: Stage, laid_at: datetime, *, actor: str) -> None:
    """Put what was laid down as a stage of its own, and have both coats laid anew once it is hard and scuffed.

    The visit stays with what was laid. Followers wait for the new coats; the other side is not touched.
    """
    # Takes the row: of a clock and a report at the same moment only one counts.
    open_row = Stage.objects.filter(pk=stage.pk, state=Stage.State.UNDER_WAY)
    latest = recoat.latest(stage)
    if not open_row.update(state=Stage.State.TO_DO, started_at=None, ended_at=None):
        return
    if not coats.reported(stage):
        coats.lay_first(stage, laid_at, None, by=None, actor=actor)
    late = _laid_alone(stage, laid_at)
    scuff = _scuff(stage)
    _link(stage, late, scuff)
    Pin.objects.filter(stage=stage).delete()
    for row in (stage, scuff):
        due.put("judge-stage", str(row.pk))
    _tell(stage, scuff, latest, actor)


@transaction.atomic
def take_back(late: Stage) -> Stage:
    """Undo it, as the second coat was laid in time and only told of late; return the stage it belongs to.

    Raises:
        Refused: the new coats are posted or begun.
    """
    stage, scuff = late.laid_anew_by, late.followers.get().stage
    if stage is None or any(
        row.state != Stage.State.TO_DO or Visit.objects.filter(stage=row).exists()
        for row in (stage, scuff)
    ):
        raise Refused(
            f"{late.job.boat.name}: the second coat is told of too late, both coats are planned anew already. Tell the owner."
        )
    _move(late, stage)
    scuff.delete()
    started_at = late.started_at
    late.delete()
    Stage.objects.filter(pk=stage.pk).update(
        state=Stage.State.UNDER_WAY, started_at=started_at
    )
    return Stage.objects.select_related("job__boat__place", "sheet").get(pk=stage.pk)


def _laid_alone(stage: Stage, laid_at: datetime) -> Stage:
    """The coats that were laid, done, with the visit and the film they left."""
    late = Stage.objects.create(
        job=stage.job,
        key=_key(stage, "late"),
        name=f"{stage.name}: first coat only",
        position=stage.position,
        variant=stage.variant,
        family=stage.family,
        panels=stage.panels,
        cover=stage.cover,
        heading_true_deg=stage.heading_true_deg,
        steps=[{"name": "First coat", "labour_minutes": _labour(stage) / 2}],
        minutes={size: round(took / 2) for size, took in stage.minutes.items()},
        needs=stage.needs,
        gear=stage.gear,
        sheet=stage.sheet,
        product_ml=stage.product_ml / 2,
        pausable=False,
        state=Stage.State.DONE,
        started_at=stage.started_at,
        ended_at=laid_at,
        laid_anew_by=stage,
    )
    _move(stage, late)
    holds.write(late, laid_at, planned=False)
    return late


def _move(origin: Stage, target: Stage) -> None:
    Visit.objects.filter(stage=origin).update(stage=target)
    Laid.objects.filter(stage=origin).update(stage=target)
    Hold.objects.filter(stage=origin).delete()


def _key(stage: Stage, word: str) -> str:
    """A key the job has none of yet, in front of the stage's own."""
    key = f"{word}-{stage.key}"
    others = stage.job.stages.filter(key__startswith=key).count()
    return f"{key}-{others + 1}" if others else key


def _labour(stage: Stage) -> float:
    return sum(float(row["labour_minutes"]) for row in stage.steps)


def _scuff(stage: Stage) -> Stage:
    """Scuff and mask that part again; the wipe is the first step of its coats."""
    making = stages.making_of(stage.job)
    named = list(_steps(stage, making))
    name = f"{stage.name}: scuff and mask again"
    rows = list(_rows(stage))
    return Stage.objects.create(
        job=stage.job,
        key=_key(stage, "scuff"),
        name=name,
        position=stage.position,
        variant=stage.variant,
        family=limits.strictest([row.family for row in rows], sprays=False),
        cover=Stage.Cover.OPEN,
        heading_true_deg=stage.heading_true_deg,
        steps=[
            {"name": said, "labour_minutes": round(step.labour_minutes, 1)}
            for said, step in named
        ],
        minutes=stages.minutes_by_team(making, name, [step for _, step in named]),
        needs=[
            {"skill": skill, "level": 1, "count": 1}
            for skill in sorted({row.skill for row in rows if row.skill})
        ],
    )


def _rows(stage: Stage) -> Iterator[CatalogueRow]:
    """The rows of the preparation that are done dry, and those of the masking."""
    for row in stage.job.kind.rows.order_by("position"):
        if row.visit == "mask" or (row.visit == "prep" and row.family == "prep"):
            yield row


def _steps(stage: Stage, making: stages.Making) -> Iterator[tuple[str, labour.Step]]:
    share = _share(stage)
    for row in _rows(stage):
        whole = stages.step_of(making, row)
        yield (
            f"{row.name}, again",
            labour.Step(
                labour_minutes=whole.labour_minutes * share,
                crew_min=whole.crew_min,
                crew_max=whole.crew_max,
                clock_minutes=whole.clock_minutes * share,
            ),
        )


def _share(stage: Stage) -> float:
    """How much of what is sprayed on the boat this part is, by the product it takes."""
    same_way = stage.job.stages.filter(variant=stage.variant, laid_anew_by=None)
    return stage.product_ml / sum(row.product_ml for row in same_way)


def _link(stage: Stage, late: Stage, scuff: Stage) -> None:
    """Scuffing waits until the film is hard, the new coats for the scuffing; waits that are used up hold nobody."""
    sheet, masks = late.sheet, rates.waits().get(_MASKS)
    StageLink.objects.create(
        stage=scuff,
        before=late,
        min_ref_h=sheet.sandable_ref_h if sheet else None,
        cure_min_c=sheet.cure_min_c if sheet else None,
    )
    stage.links.update(max_minutes=None)
    StageLink.objects.create(
        stage=stage, before=scuff, max_minutes=None if masks is None else round(masks)
    )
    followers = stage.followers.exclude(max_minutes=None).values("stage")
    StageLink.objects.filter(
        stage__in=followers, before__state=Stage.State.DONE
    ).update(max_minutes=None)


def _tell(stage: Stage, scuff: Stage, latest: datetime | None, actor: str) -> None:
    zone = ZoneInfo(stage.job.boat.place.time_zone)
    by = f"{latest.astimezone(zone):%a %H:%M}" if latest else "a time not known"
    minutes = _labour(scuff) + _labour(stage)
    words = Words(system=Outfit.objects.get().units)
    history.write(
        "lay-anew",
        f"job {stage.job.key}",
        f"{stage.name} on {stage.job.boat.name}: no second coat by {by}, the latest by the sheet of {stage.sheet}. "
        f"Once hard it is scuffed, masked and laid anew, both coats: {minutes:.0f} labour-minutes and "
        f"{words.volume(stage.product_ml)} more. Build the week again.",
        actor=actor,
    )
