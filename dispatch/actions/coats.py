"""Coats as they are laid: the first by itself, the second when the visit is done, each out of the cans."""

from datetime import datetime

from dispatch.actions import stores
from dispatch.records.models import Account, Laid, Stage
from dispatch.trade import units

FIRST, SECOND, BOTH = 1, 2, 0


def reported(stage: Stage) -> bool:
    """Whether the first coat of a stage was reported by itself."""
    return Laid.objects.filter(stage=stage, coat=FIRST).exists()


def share(stage: Stage, coat: int) -> stores.Share:
    """A coat of a stage as the stores know it: its name, and its part of the estimate."""
    return stores.Share(
        name=stage.name if coat == BOTH else f"Coat {coat}, {stage.name}",
        planned_ml=stage.product_ml if coat == BOTH else stage.product_ml / 2,
    )


def lay_first(
    stage: Stage,
    at: datetime,
    ounces: float | None,
    *,
    by: Account | None,
    actor: str,
) -> None:
    """Store that a stage's first coat was laid, and take it out of the cans; in the caller's transaction."""
    _lay(stage, FIRST, at, ounces, by=by, actor=actor)


def lay_last(
    stage: Stage,
    at: datetime,
    ounces: float | None,
    *,
    by: Account | None,
    actor: str,
) -> None:
    """Store what a finished stage laid: its second coat where the first was reported, else all of it."""
    if stage.sheet is not None:
        coat = SECOND if reported(stage) else BOTH
        _lay(stage, coat, at, ounces, by=by, actor=actor)


def _lay(
    stage: Stage,
    coat: int,
    at: datetime,
    ounces: float | None,
    *,
    by: Account | None,
    actor: str,
) -> None:
    used_ml = None if ounces is None else units.oz_to_ml(ounces)
    Laid.objects.create(stage=stage, coat=coat, ended_at=at, used_ml=used_ml)
    stores.draw(stage, share(stage, coat), at, used_ml, by=by, actor=actor)
