"""The cure clock: film sets by the hour, at the rate its own temperature allows."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np

from dispatch.trade.sun import Floats
from dispatch.trade.units import df_to_dk, f_to_c

REFERENCE_C = f_to_c(70)
_DOUBLES_EVERY_K = df_to_dk(18)
HOTTEST_C = f_to_c(90)
_COLDER_K, _WARMER_K = df_to_dk(-1.5), df_to_dk(2)


@dataclass(frozen=True, kw_only=True)
class Surface:
    """A hull's surface temperature hour by hour from ``start`` on, Celsius; ``known_until`` is measured."""

    start: datetime
    hourly_c: tuple[float, ...]
    known_until: datetime | None = None

    def __post_init__(self) -> None:
        if self.start.tzinfo is None:
            raise ValueError("A surface history needs a start with a time zone.")
        # Two moments of one local zone subtract as wall time, an hour wrong over a clock change.
        object.__setattr__(self, "start", self.start.astimezone(UTC))

    def shifted(self, difference_k: float) -> "Surface":
        """The same with its forecast hours warmer by a difference."""
        known = self.known_until or self.start
        measured = (
            self.start + timedelta(hours=i + 1) <= known
            for i in range(len(self.hourly_c))
        )
        shifted = (
            c if m else c + difference_k
            for c, m in zip(self.hourly_c, measured, strict=True)
        )
        return Surface(
            start=self.start, hourly_c=tuple(shifted), known_until=self.known_until
        )


@dataclass(frozen=True, kw_only=True)
class SetTime:
    """When a film is set, and the range the forecast's temperature leaves; None is never, by this forecast."""

    expected: datetime | None
    earliest: datetime | None
    latest: datetime | None


def rate(surface_c: float, min_c: float) -> float:
    """Hours of cure gained in an hour: 1 at 70 F, doubled by every 18 F more, capped at 90 F, 0 below the minimum.

    NaN where either is: what is not known sets nothing.
    """
    if math.isnan(surface_c + min_c):
        return math.nan
    if surface_c < min_c:
        return 0.0
    return float(2 ** ((min(surface_c, HOTTEST_C) - REFERENCE_C) / _DOUBLES_EVERY_K))


def gained_ref_h(
    surface: Surface, start: datetime, end: datetime, min_c: float
) -> float:
    """Hours of cure at 70 F between two moments, by the hourly integral; hours nothing is said of add none."""
    grown = _grown(surface, min_c)
    first, last = (_hours(surface, moment) for moment in (start, end))
    return float(_at(grown, last) - _at(grown, first))


def set_at(
    surface: Surface, start: datetime, ref_h: float, min_c: float
) -> datetime | None:
    """When a film laid at ``start`` has gained ``ref_h``; None where the forecast ends, or does not know, first.

    Raises:
        ValueError: the film is laid outside the hours whose temperature is known, or would set in less than no time.
    """
    begun = _hours(surface, start)
    if not 0 <= begun <= len(surface.hourly_c):
        raise ValueError(f"No surface temperature is known for {start.isoformat()}.")
    found = _ends(_grown(surface, min_c), np.array([begun]), ref_h)[0]
    return None if np.isnan(found) else surface.start + timedelta(hours=float(found))


def set_range(
    surface: Surface, start: datetime, ref_h: float, min_c: float, stretch: float = 1.0
) -> SetTime:
    """When a film is set, with the forecast hours 1.5 F colder and 2 F warmer as its range.

    ``stretch`` widens both, as for a forecast that has grown old.
    """
    return SetTime(
        expected=set_at(surface, start, ref_h, min_c),
        earliest=set_at(surface.shifted(_WARMER_K * stretch), start, ref_h, min_c),
        latest=set_at(surface.shifted(_COLDER_K * stretch), start, ref_h, min_c),
    )


def set_series(
    surface: Surface, starts: Sequence[datetime], ref_h: float, min_c: float
) -> list[datetime | None]:
    """The same as ``set_at`` for many films at once; None too for one laid outside the hours whose temperature is known."""
    begun = np.array([_hours(surface, moment) for moment in starts])
    ends = set_hours(surface, begun, ref_h, min_c)
    return [
        None if np.isnan(end) else surface.start + timedelta(hours=float(end))
        for end in ends
    ]


def set_hours(surface: Surface, begun: Floats, ref_h: float, min_c: float) -> Floats:
    """The same once more in hours from the surface's start, films and answers; NaN where ``set_series`` has None."""
    return _ends(_grown(surface, min_c), begun, ref_h)


def flash_minutes(ref_minutes: float, surface_c: float) -> float:
    """Wait between coats: the sheet's minutes at 70 F, doubled by every 18 F less, from 15 to 60; NaN stays so."""
    return float(np.clip(level_minutes(ref_minutes, surface_c), 15.0, 60.0))


def level_minutes(ref_minutes: float, surface_c: float) -> float:
    """Time a coat takes to level, by the same doubling."""
    return float(ref_minutes * 2 ** ((REFERENCE_C - surface_c) / _DOUBLES_EVERY_K))


def level_series(ref_minutes: float, surface_c: Floats) -> Floats:
    """The same for many temperatures at once; NaN stays so."""
    colder_k = REFERENCE_C - surface_c
    return np.asarray(ref_minutes * 2 ** (colder_k / _DOUBLES_EVERY_K))


def pot_life_minutes(ref_h: float, mix_c: float) -> float:
    """How long a mixed two-part can be used: the sheet's hours at 70 F, halved by every 18 F more."""
    return level_minutes(ref_h * 60, mix_c)


def _hours(surface: Surface, moment: datetime) -> float:
    return (moment - surface.start).total_seconds() / 3600


def _grown(surface: Surface, min_c: float) -> Floats:
    """Cure gained by the end of each hour, from zero at the start."""
    gains = [rate(celsius, min_c) for celsius in surface.hourly_c]
    return np.concatenate(([0.0], np.cumsum(gains)))


def _at(grown: Floats, hours: float) -> float:
    return float(np.interp(hours, np.arange(len(grown)), grown))


def _ends(grown: Floats, begun: Floats, ref_h: float) -> Floats:
    """Hours from the start at which each film is set; NaN where the temperatures end, or are not known, first."""
    if ref_h < 0:
        raise ValueError(f"Film sets in no less than 0 hours, not {ref_h:g}.")
    # A sum is NaN from its first unknown hour on.
    grown = grown[~np.isnan(grown)]
    wanted = np.interp(begun, np.arange(len(grown)), grown) + ref_h
    after = np.searchsorted(grown, wanted - 1e-12, side="left")
    inside = np.minimum(after, len(grown) - 1)
    low, high = grown[np.maximum(inside - 1, 0)], grown[inside]
    share = np.divide(
        wanted - low, high - low, out=np.zeros_like(wanted), where=high > low
    )
    inside_known = (after < len(grown)) & (begun >= 0) & (begun <= len(grown) - 1)
    return np.asarray(
        np.where(inside_known, np.maximum(inside - 1 + share, begun), np.nan),
        dtype=np.float64,
    )
