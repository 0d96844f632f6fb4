"""What was read on a hull and in the air beside it, against what forecast and model say there."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from dispatch.trade import air
from dispatch.trade.sun import Floats


@dataclass(frozen=True, kw_only=True)
class HullReading:
    """Numbers read at one moment; None where one was not read. Celsius and percent.

    Raises:
        ValueError: the moment has no zone, or nothing was read.
    """

    at: datetime
    surface_c: float | None = None
    air_c: float | None = None
    rh_pct: float | None = None

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise ValueError("A reading needs a time with a zone.")
        if self.surface_c is self.air_c is self.rh_pct is None:
            raise ValueError("A reading needs a number.")
        object.__setattr__(self, "at", self.at.astimezone(UTC))

    @property
    def dew_c(self) -> float | None:
        """The dew point, where air and humidity were both read."""
        if self.air_c is None or self.rh_pct is None:
            return None
        return air.dew_point_c(self.air_c, self.rh_pct)


def beats(
    said: Floats,
    unix: Floats,
    read: Sequence[tuple[float, float | None]],
    said_then: Floats,
    hours: float,
) -> Floats:
    """What is said at each moment, moved by how far the last reading lay from it, for so many hours after.

    ``read`` holds each reading's Unix seconds and number, in order; ``said_then`` what was said at those
    seconds. At its own moment a reading counts as it is. Where nothing was said then it changes nothing.
    """
    off = [
        (at, value - then)
        for (at, value), then in zip(read, said_then.tolist(), strict=True)
        if value is not None and np.isfinite(then)
    ]
    if not off:
        return said
    times, by = np.array([at for at, _ in off]), np.array([by for _, by in off])
    last = in_force(times, unix, hours)
    return np.asarray(
        said + np.where(last >= 0, by[np.maximum(last, 0)], 0.0), dtype=np.float64
    )


def in_force(times: Floats, unix: Floats, hours: float) -> "np.typing.NDArray[np.int_]":
    """Of readings in order, which one counts at each moment; -1 where none does."""
    last = np.searchsorted(times, unix, side="right") - 1
    if not len(times):
        return last
    fresh = unix - times[np.maximum(last, 0)] <= hours * 3600
    return np.where((last >= 0) & fresh, last, -1)
