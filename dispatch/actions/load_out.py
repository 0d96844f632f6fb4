"""Minutes a team loads at the base before it drives off, and packs up at a place before it drives on."""

from dispatch.actions import rates
from dispatch.records.models import Place


def minutes(origin: Place, to: Place) -> int:
    """Whole minutes before a drive: loading from a base, packing up from one place to the next; none home."""
    day = rates.day()
    if origin.pk == to.pk:
        return 0
    if origin.is_base:
        return round(day.load_out_minutes)
    return 0 if to.is_base else round(day.pack_up_minutes)
