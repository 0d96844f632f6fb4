"""Snags of what is made fast: a plan that has it elsewhere, or an hour that has gone by. It is never cast off silently."""

from collections.abc import Iterator

from dispatch.actions import board_strips
from dispatch.actions.board import Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.records.models import Stage

_MEND = "Cast it off, free, or build the week again."


def of(reading: Reading) -> Iterator[Snag]:
    """Each stage made fast whose visit this plan does not have there."""
    if not reading.answer:
        return
    made = {
        visit.name: visit
        for rows in board_strips.visits(reading).values()
        for visit in rows
    }
    for name, stage in reading.stages.items():
        pin = getattr(stage, "pin", None)
        if pin is None or stage.state != Stage.State.TO_DO:
            continue
        zone = reading.line.zone
        at, visit = when(pin.start, zone), made.get(name)
        if pin.start < reading.now:
            where = "that hour has gone by and nobody has started it"
        elif visit is None:
            where = "this plan has no visit for it"
        elif visit.span.start != pin.start:
            where = f"this plan has it {when(visit.span.start, zone)}"
        else:
            continue
        yield Snag(
            weight=88,
            subject=stage.job.boat.name,
            sentence=f"“{stage.name}” is made fast {at} with {pin.van.name}, and {where}.",
            mend=_MEND,
            does="cast-off",
            stage=name,
        )
