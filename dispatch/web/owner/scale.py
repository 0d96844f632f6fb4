"""From moments to places along the sheet: the day wide, the night squeezed to a quarter, never cut."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

MORNING, EVENING = time(5), time(20)
_NIGHT_SHARE = 0.25


@dataclass(frozen=True, kw_only=True)
class Scale:
    """Knots of (Unix seconds, x), straight between them."""

    seconds: tuple[float, ...]
    xs: tuple[float, ...]

    def x(self, moment: datetime) -> float:
        """Where a moment stands; before the first day at its left edge, after the last at its right."""
        at = moment.timestamp()
        if at <= self.seconds[0]:
            return self.xs[0]
        if at >= self.seconds[-1]:
            return self.xs[-1]
        i = bisect_right(self.seconds, at)
        since, until = self.seconds[i - 1], self.seconds[i]
        share = (at - since) / (until - since)
        return self.xs[i - 1] + share * (self.xs[i] - self.xs[i - 1])

    def moment(self, x: float) -> datetime:
        """The moment that stands at a place of the sheet, aware UTC; the nearest one beside it."""
        at = min(max(x, self.xs[0]), self.xs[-1])
        i = min(max(bisect_right(self.xs, at), 1), len(self.xs) - 1)
        since, until = self.xs[i - 1], self.xs[i]
        share = (at - since) / (until - since)
        seconds = self.seconds[i - 1] + share * (self.seconds[i] - self.seconds[i - 1])
        return datetime.fromtimestamp(seconds, tz=UTC)

    def holds(self, moment: datetime) -> bool:
        """Whether a moment lies on the sheet."""
        return self.seconds[0] <= moment.timestamp() <= self.seconds[-1]

    @property
    def left(self) -> float:
        """Where the first day begins."""
        return self.xs[0]

    @property
    def right(self) -> float:
        """Where the last day ends."""
        return self.xs[-1]


def of(days: Sequence[date], zone: ZoneInfo, left: float, width: float) -> Scale:
    """A scale over days in a zone's own clock; an hour that a clock change adds or takes is drawn as it passes."""
    knots, night = [], []
    for day in days:
        for clock, is_night in ((time(0), True), (MORNING, False), (EVENING, True)):
            knots.append(datetime.combine(day, clock, tzinfo=zone).timestamp())
            night.append(is_night)
    end = datetime.combine(days[-1] + timedelta(days=1), time(0), tzinfo=zone)
    knots.append(end.timestamp())
    weights = [
        (after - before) * (_NIGHT_SHARE if dark else 1.0)
        for before, after, dark in zip(knots[:-1], knots[1:], night, strict=True)
    ]
    xs, total = [left], sum(weights)
    for weight in weights:
        xs.append(xs[-1] + width * weight / total)
    return Scale(seconds=tuple(knots), xs=tuple(xs))
