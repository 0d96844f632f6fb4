"""What a stage still takes out of the cans: less once its first coat is laid, and by what that coat really took."""

from dispatch.actions import coats
from dispatch.records.models import Laid, Stage

_LEAST, _MOST = 0.75, 2.0


def ml(stage: Stage) -> float:
    """Millilitres a stage that is not done still takes: all of it, or its second coat alone.

    The second coat is expected to take what it was planned with, times what the first one really took over what
    that was planned with. Our assumption: no less than 0.75 of the plan, as a thin first coat is made up for, and no
    more than twice, as what goes beyond is a spill or a slip of the pen. A first coat that nobody measured leaves the
    plan; where nobody estimated either, the second takes as much as the first.
    """
    first = first_coat(stage)
    if first is None:
        return stage.product_ml
    planned = coats.share(stage, coats.SECOND).planned_ml
    if first.used_ml is None:
        return planned
    if not planned:
        return first.used_ml
    return planned * min(_MOST, max(_LEAST, first.used_ml / planned))


def first_coat(stage: Stage) -> Laid | None:
    """The first coat of a stage that only its second one is left of; None where it is not so far, or done."""
    if stage.state != Stage.State.UNDER_WAY or not stage.flashes:
        return None
    return next((row for row in stage.laid.all() if row.coat == coats.FIRST), None)
