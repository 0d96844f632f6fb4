"""How full a day is: what is planned against the hours there are, as reckoned and as four days in five keep to."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date


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
        return self.share > most or self.late_share > late_most


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
