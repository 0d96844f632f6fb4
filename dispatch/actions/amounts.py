"""What a coat took, put right after it was reported: the report, and the cans with it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from dispatch.actions import coats, history, reporting, stores
from dispatch.actions.errors import Refused
from dispatch.records.models import Laid, Outfit, Person, Sheet, Stage
from dispatch.trade import units
from dispatch.trade.words import Words

_A_DROP_ML = 0.05


@dataclass(frozen=True, kw_only=True)
class Amount:
    """A coat that was reported (2 is the second, 0 both at once), what it is called, and what it took in words."""

    coat: int
    name: str
    took: str


def told(stage: Stage, words: Words) -> tuple[Amount, ...]:
    """Every coat of a stage that was reported."""
    return tuple(_told(stage, words))


def _told(stage: Stage, words: Words) -> Iterator[Amount]:
    names = {coats.FIRST: "First coat", coats.SECOND: "Second coat"}
    for row in stage.laid.all():
        planned_ml = coats.share(stage, row.coat).planned_ml
        estimate = (
            f"{words.volume(planned_ml)} by the estimate, not measured"
            if planned_ml
            else "not known, neither measured nor estimated"
        )
        yield Amount(
            coat=row.coat,
            name=names.get(row.coat, "All of it"),
            took=estimate if row.used_ml is None else words.volume(row.used_ml),
        )


@transaction.atomic
def put_right(stage: Stage, coat: int, person: Person, ounces: float) -> None:
    """Set what a reported coat took to so many US fluid ounces; the cans give or get back the difference.

    Cans counted by hand since it was laid stay as they were counted.

    Raises:
        Stranger: the person neither rides in that van that day nor owns the outfit.
        Refused: the coat was not reported, or the amount cannot be right.
    """
    by = reporting.reporter(stage, person)
    reporting.check_amount(stage, ounces)
    row = Laid.objects.select_for_update().filter(stage=stage, coat=coat).first()
    if row is None or stage.sheet is None:
        raise Refused(
            f"That coat of {stage.name} is not reported yet. Report it first."
        )
    new_ml, share = units.oz_to_ml(ounces), coats.share(stage, coat)
    before_ml = share.planned_ml if row.used_ml is None else row.used_ml
    if row.used_ml is not None and abs(new_ml - before_ml) < _A_DROP_ML:
        return
    Laid.objects.filter(pk=row.pk).update(used_ml=new_ml)
    said = cans(stage.sheet, row.ended_at, new_ml - before_ml)
    words = Words(system=Outfit.objects.get().units)
    known = row.used_ml is not None or share.planned_ml
    before = f"not {words.volume(before_ml)}" if known else "which was not known"
    history.write(
        "correct-amount",
        f"job {stage.job.key}",
        f"{share.name} on {stage.job.boat.name} took {words.volume(new_ml)} of {stage.sheet}, {before}. {said}",
        by=by,
        actor=person.name,
    )


def cans(known: Sheet, at: datetime, more_ml: float) -> str:
    """Take more of a coat laid at a moment out of the cans, or put some back; what became of them in words.

    Cans counted by hand since stay as they were counted. In the caller's transaction.
    """
    sheet = Sheet.objects.select_for_update().get(pk=known.pk)
    if counted := stores.counted_since(sheet, at):
        return counted
    words = Words(system=Outfit.objects.get().units)
    short = stores.put_right(sheet, more_ml, at)
    if short:
        return f"The stores held {words.volume(short)} less than that: count the cans."
    what = "taken out of" if more_ml >= 0 else "put back into"
    return f"{words.volume(abs(more_ml))} {what} the stores."
