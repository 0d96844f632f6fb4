"""The planner's whole minutes and the rows' moments, by one zero."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import clock, one_moment
from dispatch.actions.errors import Refused
from dispatch.records.models import Week
from dispatch.trade.spans import Span


@dataclass(frozen=True, kw_only=True)
class Timeline:
    """A week's days in elapsed minutes from local midnight of the first; a clock change never shifts them."""

    zone: ZoneInfo
    dates: tuple[date, ...]
    zero: datetime

    def minute(self, moment: datetime) -> int:
        """Whole elapsed minutes of an aware moment, rounded down."""
        return int((moment - self.zero).total_seconds() // 60)

    def moment(self, minute: int) -> datetime:
        """The aware UTC moment of an elapsed minute."""
        return self.zero + timedelta(minutes=minute)

    def at(self, day: date, clock: time, zone: ZoneInfo | None = None) -> int:
        """The elapsed minute of a wall-clock time on a date, in the outfit's zone or a place's."""
        return self.minute(
            datetime.combine(day, clock, tzinfo=zone or self.zone).astimezone(UTC)
        )

    def midnight(self, day: date) -> int:
        """The elapsed minute at which a date begins."""
        return self.at(day, time(0))

    @property
    def days(self) -> list[list[int]]:
        """Every day as [start, end) in elapsed minutes."""
        return [
            [self.midnight(day), self.midnight(day + timedelta(days=1))]
            for day in self.dates
        ]

    @property
    def horizon(self) -> Span:
        """The whole week as moments."""
        return Span(self.zero, self.moment(self.days[-1][1]))


def of(week: Week) -> Timeline:
    """The timeline of a week in the outfit's zone."""
    zone = ZoneInfo(one_moment.outfit().time_zone)
    dates = tuple(
        week.starts_on + timedelta(days=offset) for offset in range(week.days)
    )
    zero = datetime.combine(dates[0], time(0), tzinfo=zone).astimezone(UTC)
    return Timeline(zone=zone, dates=dates, zero=zero)


def has_gone(week: Week) -> bool:
    """Whether a week is over."""
    return of(week).horizon.end <= clock.now()


def refuse_gone(week: Week) -> None:
    """Refuse to plan a week that is over.

    Raises:
        Refused: it is.
    """
    if has_gone(week):
        raise Refused(
            f"The week of {week.starts_on:%d %B} has gone by. Plan this week or a later one."
        )
