"""The demo's own clock, moved on by the owner."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import access, board_words, clock, history
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit


@transaction.atomic
def move_to(moment: datetime, *, by: Account) -> None:
    """Move the demo's clock on to an aware moment; the history tells from when to when.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the outfit runs on the real clock, or the moment lies behind.
    """
    access.owner(by)
    before = clock.now()
    still = Outfit.objects.filter(stands_at__isnull=False, stands_at__lte=moment)
    if not still.update(stands_at=moment):
        raise Refused(
            "Only the demo's clock can be moved, and only forward. Pick a later moment."
        )
    zone = ZoneInfo(Outfit.objects.get().time_zone)
    start, end = (board_words.dated(at, zone) for at in (before, moment))
    history.write(
        "move-clock", "clock", f"Moved the demo's clock from {start} to {end}.", by=by
    )
