"""How long film takes to set by the minute it is finished, as a short table for a planner of whole minutes."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from dispatch.trade import cure
from dispatch.trade.cure import Surface
from dispatch.trade.spans import Span

Row = tuple[int, int, int | None]

_STEP_MINUTES = 15
_ROUND_MINUTES = 5
_MOST_ROWS = 120


def lag_table(
    surface: Surface, horizon: Span, ref_h: float, min_c: float
) -> tuple[Row, ...]:
    """Rows ``(from_minute, to_minute, lag_minutes)``: film finished from one minute of the horizon to before the other.

    The lag is never shorter than the cure clock says for any whole minute of its row: it is rounded
    up to 5 minutes, and rows are merged by their longest lag until about 120 are left. None is film
    that is not set by this forecast, or laid where no temperature is known.
    """
    longest = list(_longest(surface, horizon, ref_h, min_c))
    slack = _ROUND_MINUTES
    rows = _merged(longest, slack)
    while len(rows) > _MOST_ROWS and slack < 24 * 60:
        slack *= 2
        rows = _merged(longest, slack)
    return tuple(rows)


def _longest(
    surface: Surface, horizon: Span, ref_h: float, min_c: float
) -> Iterator[Row]:
    """The longest lag of every step, rounded up."""
    lags = _by_minute(surface, horizon, ref_h, min_c)
    for first in range(0, len(lags), _STEP_MINUTES):
        step = lags[first : first + _STEP_MINUTES]
        known = [lag for lag in step if lag is not None]
        whole = len(known) == len(step)
        yield first, first + len(step), _rounded(max(known)) if whole else None


def _rounded(minutes: float) -> int:
    return math.ceil(minutes / _ROUND_MINUTES - 1e-9) * _ROUND_MINUTES


def _by_minute(
    surface: Surface, horizon: Span, ref_h: float, min_c: float
) -> list[float | None]:
    """Minutes to set for film finished at each whole minute; None is unknown or never."""
    minutes = np.arange(math.ceil(horizon.length.total_seconds() / 60))
    ahead = (horizon.start - surface.start).total_seconds() / 3600
    begun = ahead + minutes / 60
    took = (cure.set_hours(surface, begun, ref_h, min_c) - begun) * 60
    return [None if math.isnan(lag) else lag for lag in took.tolist()]


def _merged(rows: Sequence[Row], slack: int) -> list[Row]:
    """Join neighbours whose lags differ by no more than the slack, each run told by its longest."""
    runs: list[_Run] = []
    for first, last, lag in rows:
        if runs and runs[-1].is_like(lag, slack):
            runs[-1].take(last, lag)
        else:
            runs.append(_Run(first, last, lag, lag))
    return [(run.first, run.last, run.most) for run in runs]


@dataclass(slots=True)
class _Run:
    """Neighbouring steps, with their shortest and longest lag; None is that of those which never set."""

    first: int
    last: int
    least: int | None
    most: int | None

    def is_like(self, lag: int | None, slack: int) -> bool:
        if lag is None or self.least is None or self.most is None:
            return lag is self.most
        return max(self.most, lag) - min(self.least, lag) <= slack

    def take(self, last: int, lag: int | None) -> None:
        self.last = last
        if lag is not None and self.least is not None and self.most is not None:
            self.least, self.most = min(self.least, lag), max(self.most, lag)
