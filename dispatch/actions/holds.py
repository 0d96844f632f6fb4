"""Film that sets: from the end of its last coat to rain-safe and sandable, with the range."""

import math
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import clock, facts, rates
from dispatch.records.models import Hold, Stage
from dispatch.trade import cure, samples
from dispatch.trade.sky import Sky
from dispatch.trade.spans import Span

# No forecast reaches farther.
_LONGEST = timedelta(days=21)
_TWO_DAYS = timedelta(days=2)
_HOUR = timedelta(hours=1)
TOO_COLD = "never by this forecast: too cold"


def write(stage: Stage, laid_at: datetime, *, planned: bool) -> None:
    """Store the holds of the film a stage lays, in place of those it had; in the caller's transaction."""
    Hold.objects.filter(stage=stage).delete()
    if stage.sheet is None:
        return
    wanted = (
        (Hold.Kind.RAIN_SAFE, stage.sheet.rain_safe_ref_h),
        (Hold.Kind.SANDABLE, stage.sheet.sandable_ref_h),
    )
    for kind, ref_h in wanted:
        if ref_h is None:
            continue
        times = sets(stage, laid_at, ref_h)
        Hold.objects.create(
            stage=stage,
            kind=kind,
            planned=planned,
            start=laid_at,
            end=times.expected if times else None,
            earliest=times.earliest if times else None,
            latest=times.latest if times else None,
        )


def sets(stage: Stage, laid_at: datetime, ref_h: float) -> cure.SetTime | None:
    """When film laid at a moment has gained so many hours of cure; None where no forecast reaches back to it."""
    sky = _sky(stage, laid_at)
    surface = _hull(stage, laid_at, sky) if sky else None
    if sky is None or surface is None or stage.sheet is None:
        return None
    stretch = rates.limits().stretch(sky.age_hours)
    return cure.set_range(surface, laid_at, ref_h, stage.sheet.cure_min_c, stretch)


def hull_c(stage: Stage, start: datetime, end: datetime) -> tuple[float, ...]:
    """The hull's temperature in each hour that touches a span, Celsius; one nobody knows is minus infinity."""
    surface = _surface(stage, start)
    if surface is None:
        return ()
    first = int((start - surface.start) / _HOUR)
    last = math.ceil((end - surface.start) / _HOUR)
    return surface.hourly_c[max(0, first) : last]


def too_cold(stage: Stage, laid_at: datetime) -> bool:
    """Whether film that is not set by the forecast is known not to set: two days and more of hours do not do it."""
    surface = _surface(stage, laid_at)
    if surface is None:
        return False
    known_until = surface.start + timedelta(hours=len(surface.hourly_c))
    return known_until - laid_at >= _TWO_DAYS


def when(hold: Hold, zone: ZoneInfo) -> str:
    """When film has set, with its range, in a zone's time."""
    if hold.end is None:
        cold = too_cold(hold.stage, hold.start)
        return TOO_COLD if cold else "at a time not known by this forecast"
    end = f"{hold.end.astimezone(zone):%a %H:%M}"
    if hold.earliest is None or hold.latest is None:
        return f"about {end}, or later"
    early, late = (at.astimezone(zone) for at in (hold.earliest, hold.latest))
    aged = "" if hold.latest <= clock.now() else aging(hold.stage)
    return f"about {end} ({early:%a %H:%M} to {late:%a %H:%M}{aged})"


def aging(stage: Stage) -> str:
    """How old the forecast is that film's range was widened for, as ``; wider, as the forecast is 14 h old``."""
    forecast = facts.latest_forecast(stage.job.boat.place, clock.now())
    if forecast is None:
        return ""
    hours = (clock.now() - forecast.issued_at) / _HOUR
    if rates.limits().stretch(hours) <= 1:
        return ""
    return f"; wider, as the forecast is {hours:.0f} h old"


def _surface(stage: Stage, laid_at: datetime) -> cure.Surface | None:
    """The hull's temperature from the hour the film was laid in: hours to come by the newest forecast."""
    sky = _sky(stage, laid_at)
    return _hull(stage, laid_at, sky) if sky else None


def _sky(stage: Stage, laid_at: datetime) -> Sky | None:
    span = Span(laid_at, laid_at + _LONGEST)
    return facts.sky_so_far(stage.job.boat.place, clock.now(), span)


def _hull(stage: Stage, laid_at: datetime, sky: Sky) -> cure.Surface | None:
    span = Span(laid_at, laid_at + _LONGEST)
    found = samples.surface(facts.work(stage, span, rates.limits()), sky)
    return found if found and found.start <= laid_at else None
