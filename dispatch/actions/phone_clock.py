"""When a report was made that waited on a phone: by the phone's clock, put right by how far that is off."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import clock, history
from dispatch.actions.board_words import when
from dispatch.actions.errors import Refused
from dispatch.records.models import Account, Outfit, Person, Place

# Less may be the way of a page from here to the phone. An assumption.
_NEAR = timedelta(minutes=2)


@dataclass(frozen=True, kw_only=True)
class Made:
    """A moment by a phone's clock, and how far that clock is ahead of ours; behind, where negative."""

    at: datetime
    ahead: timedelta

    @property
    def right(self) -> datetime:
        """The moment by our clock."""
        return self.at - self.ahead


def moment(made: Made, place: Place, day: date, person: Person) -> datetime:
    """The moment a report was made, put right; the history has both times where the phone's clock is off.

    ``day`` is that of the page it was made on. In the caller's transaction.

    Raises:
        Refused: put right it lies ahead, or before that day: the clock was set meanwhile.
    """
    zone, now = ZoneInfo(place.time_zone), clock.now()
    at = made.right
    if at > now and (at <= now + _NEAR or _stands()):
        at = now
    if at > now:
        raise Refused(
            f"{_both(made, zone)} has not come yet; it is {when(now, zone)}. Enter the time it happened."
        )
    if at.astimezone(zone).date() < day:
        raise Refused(
            f"{_both(made, zone)} is before the day it is of, {day:%a %d %b}. Enter the time it happened."
        )
    if abs(made.ahead) >= _NEAR and not _stands():
        history.write(
            "put-clock-right",
            f"person {person.key}",
            f"{person.name}'s phone is {_off(made.ahead)}: {when(made.at, zone)} by it counts as {when(at, zone)}.",
            by=Account.objects.filter(person=person).first(),
            actor=person.name,
        )
    return at


def _both(made: Made, zone: ZoneInfo) -> str:
    """The moment put right, and what the phone said where that differs."""
    right = when(made.right, zone)
    if abs(made.ahead) < _NEAR:
        return right
    return (
        f"{right} (by your phone {when(made.at, zone)}, and it is {_off(made.ahead)})"
    )


def _off(ahead: timedelta) -> str:
    minutes = abs(round(ahead / timedelta(minutes=1)))
    size = f"{minutes} min" if minutes < 120 else f"{minutes / 60:.0f} h"
    return f"{size} {'fast' if ahead > timedelta(0) else 'slow'}"


def _stands() -> bool:
    """Whether our clock is the demo's, which stands still: any other is off by it."""
    return Outfit.objects.filter(stands_at__isnull=False).exists()
