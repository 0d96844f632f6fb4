"""Why a boat may not be turned: film of hers, whichever job laid it, is wet or setting, or another way was begun."""

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from dispatch.actions import boat_strip, clock, holds
from dispatch.actions.recipes import TURN
from dispatch.actions.turns import TURNED
from dispatch.records.models import Boat, Hold, Job, Stage
from dispatch.trade.spans import Span


def why(job: Job) -> str:
    """What is against turning her now for a job, in sentences; empty where nothing is. Nobody overrules it."""
    return " ".join((*_setting(job.boat), *_begun(job)))


def after_film(stage: Stage, ahead: Span) -> tuple[Span, ...]:
    """The part of a span in which a stage may be done for the film of her boat: a turn once all of it is sandable."""
    if not stage.key.startswith(TURN.visit):
        return (ahead,)
    ends = [hold.latest or hold.end for hold in _wet(stage.job.boat)]
    if not ends:
        return (ahead,)
    known = [end for end in ends if end is not None]
    if len(known) < len(ends) or max(known) >= ahead.end:
        return ()
    return (Span(max(ahead.start, *known), ahead.end),)


def _setting(boat: Boat) -> Iterator[str]:
    zone = ZoneInfo(boat.place.time_zone)
    for hold in _wet(boat):
        told = Hold.Kind(hold.kind).label.lower()
        yield f"“{hold.stage.name}” is laid and {told} {holds.when(hold, zone)}: no boat is turned before all her film is."


def _begun(job: Job) -> Iterator[str]:
    other = job.stages.exclude(variant__in=("", TURNED))
    begun = other.exclude(state=Stage.State.TO_DO).first()
    if begun is not None:
        yield f"“{begun.name}” was begun as she lies; what is begun that way is ended that way."


def _wet(boat: Boat) -> Iterator[Hold]:
    laid = Stage.objects.filter(job__boat=boat, holds__planned=False).distinct()
    rows = laid.select_related("job__boat__place", "sheet")
    for stage in rows.prefetch_related("holds", "followers__stage"):
        if hold := boat_strip.wet(stage, clock.now()):
            hold.stage = stage
            yield hold
