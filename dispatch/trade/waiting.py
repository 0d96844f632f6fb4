"""What a visit waits for with idle hands: while a washed hull dries, while a fill kicks, between two coats.

That a hull dries before she is scuffed, a fill kicks before it is sanded and a coat flashes before the next is common
practice; the catalogue's minutes for it are assumptions.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dispatch.trade import cure, labour, samples
from dispatch.trade.labour import Rates, Step
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span
from dispatch.trade.sun import Floats
from dispatch.trade.units import f_to_c
from dispatch.trade.work import Work

# Where neither family nor sheet says how cold a hull may be: an assumption, below which hardly anything is laid.
_COLDEST_C = f_to_c(50)
_REST_SHARE = 10 / 60


@dataclass(frozen=True, kw_only=True)
class Waits:
    """Idle minutes inside a visit, and those that are left when its last step is done."""

    idle_minutes: float
    left_minutes: float


def waits(steps: Sequence[Step], team: int, rates: Rates, hull_c: float) -> Waits:
    """What a team waits that does steps in order; what may be done meanwhile fills a wait, the rest stands still.

    A wait in minutes at 70 F is longer on a colder hull, by the cure clock.
    """
    clock = ready = idle = 0.0
    for step in steps:
        if not step.meanwhile and ready > clock:
            idle, clock = idle + ready - clock, ready
        clock += step.clock_minutes
        clock += step.labour_minutes / labour.worth(min(team, step.crew_max), rates)
        ready = max(ready, clock + hold_minutes(step, hull_c))
    return Waits(idle_minutes=idle, left_minutes=max(0.0, ready - clock))


def hold_minutes(step: Step, hull_c: float) -> float:
    """How long a boat is left after a step, on a hull of a temperature."""
    return step.hold_minutes + step.hold_ref_minutes / cure.rate(hull_c, -math.inf)


def coldest_c(
    work: Work, sky: Sky | None, spans: Sequence[Span], enough_pct: float = 100.0
) -> float:
    """How cold her hull is by day in the spans in which work may be done: so much of them is as warm, or warmer.

    By all of them a wait is never short; by half of them it is short in a cold hour, and not too long in most. No colder
    than the work allows, and that where an hour of them is not known or there are none.
    """
    by_day = _by_day(work, sky, spans)
    if not len(by_day) or bool(np.isnan(by_day).any()):
        return _least_c(work)
    warm = by_day[by_day >= _least_c(work)]
    if not len(warm):
        return _least_c(work)
    return float(np.percentile(warm, 100 - enough_pct, method="lower"))


def warmest_c(work: Work, sky: Sky | None, span: Span) -> float:
    """The warmest her hull is by day in a span, as far as it is known: no wait in it is shorter than by that."""
    by_day = _by_day(work, sky, (span,))
    known = by_day[~np.isnan(by_day)]
    return max(float(known.max(initial=-np.inf)), _least_c(work))


def hot(
    work: Work, sky: Sky | None, spans: Sequence[Span], rest_air_c: float, pct: float
) -> bool:
    """Whether the air is hot enough to ask for rest in so much of the daylight in which work may be done.

    Unknown hours ask for none here: the crew's card tells the heat of the hour.
    """
    if sky is None or not spans or _never(sky, work, rest_air_c):
        return False
    taken = [samples.take(work, sky, span) for span in spans]
    air = np.concatenate([grid["air_c"][grid.sun_up] for grid in taken])
    return bool(len(air)) and 100 * float(np.mean(air >= rest_air_c)) >= pct


def _never(sky: Sky, work: Work, air_c: float) -> bool:
    """Whether no hour of a forecast is as hot as that at the place; soon known, and true of most of a year."""
    offset = max(work.site.day_offset_k, work.site.night_offset_k)
    return all(hour.air_c is None or hour.air_c + offset < air_c for hour in sky.hours)


def rest_minutes(hands_minutes: float) -> float:
    """Rest in the heat: 10 minutes to every hour of work, an assumption."""
    return hands_minutes * _REST_SHARE


def _by_day(work: Work, sky: Sky | None, spans: Sequence[Span]) -> Floats:
    """The shaded hull's temperature at the moments of spans at which the sun is up."""
    if sky is None or not spans:
        return np.empty(0)
    taken = [samples.take(work, sky, span) for span in spans]
    return np.concatenate([grid.surface_c[grid.sun_up] for grid in taken])


def _least_c(work: Work) -> float:
    bounds = work.bounds
    return max(bounds.surface_min_c, _COLDEST_C) if bounds else _COLDEST_C
