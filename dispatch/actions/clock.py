"""The moment it is for this outfit: the real one, or the demo's own."""

from datetime import datetime

from django.utils import timezone

from dispatch.records.models import Outfit


def now() -> datetime:
    """The aware moment that every action goes by.

    The demo's clock stands still at a stored moment, so that the demo shows the same
    week whatever today's date is.
    """
    stands_at = Outfit.objects.values_list("stands_at", flat=True).first()
    return stands_at or timezone.now()
