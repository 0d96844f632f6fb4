"""When people may be written to: send hours in the customer's own zone."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.notices.reasons import Reason


@dataclass(frozen=True, kw_only=True)
class Hours:
    """From ``opens`` to just before ``closes`` by the customer's clock, every day."""

    opens: time
    closes: time

    def __post_init__(self) -> None:
        if self.opens >= self.closes:
            raise ValueError(
                f"Send hours must close after they open, not {self.opens} to {self.closes}."
            )


USUAL = Hours(opens=time(8), closes=time(20, 30))
# A warning not to touch wet film cannot wait for the usual hours.
_OWN: Mapping[Reason, Hours] = {Reason.FILM_WET: Hours(opens=time(7), closes=time(21))}


def next_allowed(
    reason: Reason, at: datetime, zone: ZoneInfo, hours: Hours | None = None
) -> datetime:
    """The first moment (UTC) from ``at`` on at which a message may go to a customer who lives in a zone.

    Raises:
        ValueError: the moment has no zone.
    """
    if at.tzinfo is None:
        raise ValueError("Send hours need a moment with a time zone.")
    within = hours or _OWN.get(reason, USUAL)
    local = at.astimezone(zone)
    if within.opens <= local.time() < within.closes:
        return at.astimezone(UTC)
    late = local.time() >= within.closes
    day = local.date() + timedelta(days=1 if late else 0)
    return datetime.combine(day, within.opens, tzinfo=zone).astimezone(UTC)
