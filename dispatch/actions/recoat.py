"""Until when the second coat of a visit may follow the first, by the product's sheet and the cure clock."""

from datetime import datetime

from dispatch.actions import holds
from dispatch.records.models import Stage
from dispatch.trade.cure import SetTime


def limited(stage: Stage) -> bool:
    """Whether a stage lays a second coat that its sheet lets wait only so long."""
    sheet = stage.sheet
    return bool(stage.flashes) and sheet is not None and bool(sheet.recoat_latest_ref_h)


def times(stage: Stage) -> SetTime | None:
    """The last moment for the second coat, with its range; None where no forecast tells it.

    Counted from the end of the first coat, from the start of the visit where nobody reported that. A sheet's
    limit: nobody overrules it.
    """
    begun, sheet = first_ended(stage), stage.sheet
    if begun is None or sheet is None or not sheet.recoat_latest_ref_h:
        return None
    return holds.sets(stage, begun, sheet.recoat_latest_ref_h)


def told(stage: Stage) -> datetime | None:
    """The last moment as the crew is told it: by the warmer end of what the forecast leaves open."""
    found = times(stage)
    return (found.earliest or found.expected) if found else None


def latest(stage: Stage) -> datetime | None:
    """The last moment as it is expected; from then on the coat counts as missed."""
    found = times(stage)
    return found.expected if found else None


def first_ended(stage: Stage) -> datetime | None:
    """When the first coat was reported laid, else when its visit was begun."""
    first = next((row for row in stage.laid.all() if row.coat == 1), None)
    return first.ended_at if first else stage.started_at
