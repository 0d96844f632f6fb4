"""A visit that took longer than was planned, or does by now: by how much."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from dispatch.actions import begun, rates
from dispatch.records.models import Stage


@dataclass(frozen=True, kw_only=True)
class Over:
    """Minutes on site as planned, and as they were; of a visit under way, as they are thought to be."""

    planned_minutes: int
    minutes: int
    done: bool

    @property
    def over_minutes(self) -> int:
        """Minutes above what was planned."""
        return self.minutes - self.planned_minutes


def of(stage: Stage, planned_minutes: int, now: datetime) -> Over | None:
    """By how much a visit that was begun overran; None where it did not, by what the board lets pass, or its start is not known."""
    if stage.started_at is None:
        return None
    done = stage.state == Stage.State.DONE
    span = begun.took(stage.visit) if done else begun.takes(stage.visit, now)
    minutes = round((span.end - span.start) / timedelta(minutes=1))
    found = Over(planned_minutes=planned_minutes, minutes=minutes, done=done)
    return found if found.over_minutes > rates.board().overran_minutes else None
