"""How full a day is: what is planned against the hours there are, as reckoned and as four days in five keep to."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

_QUARTER = 15


@dataclass(frozen=True, kw_only=True)
class Load:
    """Labour-minutes of a day as planned, as four in five such days keep to, and those that people are there for."""

    planned_minutes: float
    late_minutes: float
    there_minutes: float

    @property
    def share(self) -> float | None:
        """Planned over there; None where nobody is there."""
        return self.planned_minutes / self.there_minutes if self.there_minutes else None

    @property
    def late_share(self) -> float | None:
        """The same for the late minutes."""
        return self.late_minutes / self.there_minutes if self.there_minutes else None

    def too_full(self, most: float, late_most: float) -> bool:
        """Whether more is planned than leaves room for what runs over; work for nobody is too much."""
        if self.share is None or self.late_share is None:
            return self.planned_minutes > 0
        # In this order a share that is not a number is too full.
        return not (self.share <= most and self.late_share <= late_most)


@dataclass(frozen=True, kw_only=True)
class Stop:
    """A stop of a day as planned, in minutes: what must lie before it, and by how much it runs over on a late day.

    One that was ``told`` of began when it says, whatever was thought of those before it.
    """

    start: float
    end: float
    before_minutes: float = 0.0
    over_minutes: float = 0.0
    told: bool = False


def on_a_late_day(
    depart: float, stops: Sequence[Stop]
) -> Iterator[tuple[float, float]]:
    """From when to when each stop is on a day that runs over; idle time before one takes up what those before ran over."""
    free = depart
    for stop in stops:
        start = stop.start if stop.told else max(stop.start, free + stop.before_minutes)
        end = start + stop.end - stop.start + stop.over_minutes
        free = max(free, end) if stop.told else end
        yield start, end


@dataclass(frozen=True, kw_only=True)
class HalfDays:
    """Half-days of a person left empty on Thursday or Friday, more in a rush of boats that were never here; assumptions."""

    count: float = 1.0
    minutes: float = 240.0
    rush_count: float = 2.0
    first_timers_pct: float = 40.0


def poured(
    free: Mapping[date, float], *, ahead: float, minutes: float
) -> tuple[date, date] | None:
    """The first and the last day on which work fits into days' free labour-minutes, behind work that goes before it.

    None where the days do not hold it.
    """
    first: date | None = None
    for day in sorted(free):
        left = free[day]
        before = min(left, ahead)
        ahead, left = ahead - before, left - before
        if ahead > 0 or left <= 0:
            continue
        first = first or day
        minutes -= left
        if minutes <= 0:
            return first, day
    return None


def half_days(free_minutes: Iterable[float], half_minutes: float) -> int:
    """How many half-days lie in pieces of somebody's free time, each in one piece."""
    return sum(int(piece // half_minutes) for piece in free_minutes)


def tight_starts(
    span: tuple[int, int], *, takes: int, over: float, spare: float, cents: float
) -> Iterator[tuple[int, int, int]]:
    """From when to when, in minutes, a start leaves less than ``spare`` before the span's end, and what that may cost.

    Of a visit that ``takes`` so long, and ``over`` more on a day that runs over: with nothing to spare then it is
    ``cents``, in proportion before and after, by quarters of an hour.
    """
    first, end = span
    last = end - takes
    calm = math.floor(last - over - spare)
    if spare <= 0 or cents <= 0:
        return
    for quarter in range(math.ceil((last - calm) / _QUARTER)):
        since = calm + 1 + quarter * _QUARTER
        until = min(since + _QUARTER, last + 1)
        dear = round(cents * (quarter + 1) * _QUARTER / spare)
        if max(first, since) < until:
            yield max(first, since), until, dear
