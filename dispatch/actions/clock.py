"""The moment it is for this outfit: the real one, or the demo's own."""

from datetime import datetime

from django.utils import timezone

from dispatch.actions.errors import Refused
from dispatch.records.models import Outfit


def now() -> datetime:
    """The aware moment that every action goes by.

    The demo's clock stands still at a stored moment, so that the demo shows the same
    week whatever today's date is.
    """
    stands_at = Outfit.objects.values_list("stands_at", flat=True).first()
    return stands_at or timezone.now()


def stands_still() -> bool:
    """Whether the outfit runs on the demo's clock."""
    return Outfit.objects.filter(stands_at__isnull=False).exists()


def move_to(moment: datetime) -> None:
    """Move the demo's clock on to an aware moment.

    Raises:
        Refused: the outfit runs on the real clock, or the moment lies behind.
    """
    moved = Outfit.objects.filter(
        stands_at__isnull=False, stands_at__lte=moment
    ).update(stands_at=moment)
    if not moved:
        raise Refused(
            "Only the demo's clock can be moved, and only forward. Pick a later moment."
        )
