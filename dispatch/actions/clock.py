"""The moment it is for this outfit: the real one, or the demo's own."""

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from django.utils import timezone

from dispatch.actions import one_moment
from dispatch.records.models import Outfit


def of_day(minutes: float) -> time:
    """Minutes since midnight as a time of day."""
    hours, rest = divmod(round(minutes), 60)
    return time(hours, rest)


def zone() -> ZoneInfo:
    """The outfit's time zone; UTC where there is no outfit."""
    name = Outfit.objects.values_list("time_zone", flat=True).first()
    return ZoneInfo(name or "UTC")


def today(time_zone: str = "") -> date:
    """The date it is by the outfit's clock, or in another time zone."""
    return now().astimezone(ZoneInfo(time_zone) if time_zone else zone()).date()


def now() -> datetime:
    """The aware moment that every action goes by.

    The demo's clock stands still at a stored moment, so that the demo shows the same
    week whatever today's date is.
    """
    return one_moment.once("now", _now)


def _now() -> datetime:
    stands_at = Outfit.objects.values_list("stands_at", flat=True).first()
    return stands_at or timezone.now()
