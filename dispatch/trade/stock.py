"""When a product must be ordered so that it is there in time."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

_DAY = timedelta(days=1)
_SATURDAY = 5


def order_by(
    needed: datetime,
    zone: ZoneInfo,
    *,
    lead_days: float,
    spare_hours: float,
    cutoff: time,
) -> datetime:
    """The last moment to order: the supplier's working days before it is needed, some hours to spare, by the supplier's last hour.

    What is ordered after ``cutoff`` counts as ordered on the next working day. Saturdays and Sundays are no working days; public holidays are not known here. Walked by the clock on the
    wall of the zone. A part of a working day counts by its hours.
    """
    at = needed.astimezone(zone)
    for _ in range(int(lead_days)):
        at = _day_before(at, zone)
    part = timedelta(days=lead_days - int(lead_days), hours=spare_hours)
    return _last_hour((at.astimezone(ZoneInfo("UTC")) - part).astimezone(zone), cutoff)


def _last_hour(at: datetime, cutoff: time) -> datetime:
    """A moment at which the supplier still takes the day's orders, or the last hour before it."""
    day = at.date()
    while day.weekday() >= _SATURDAY:
        day -= _DAY
    last = datetime.combine(day, cutoff, tzinfo=at.tzinfo)
    return min(at, last)


def _day_before(at: datetime, zone: ZoneInfo) -> datetime:
    """The same hour of the working day before."""
    day = at.replace(tzinfo=None) - _DAY
    while day.weekday() >= _SATURDAY:
        day -= _DAY
    return day.replace(tzinfo=zone)
