"""Sun on a hull: which side is in shade, when that changes, the latest start that keeps a slot in shade."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import facts, rates, visit_waits, windows
from dispatch.records.models import Place, Stage, Visit
from dispatch.trade import shade, sun
from dispatch.trade.sky import Site
from dispatch.trade.spans import Span, intersect

SIDES = ("port", "starboard", "transom")
_STEP_MINUTES = 5


@dataclass(frozen=True, kw_only=True)
class Side:
    """One panel at a moment: in shade or not, and until when; no end where the day brings no change."""

    panel: str
    shaded: bool
    until: datetime | None


@dataclass(frozen=True, kw_only=True)
class SunFacts:
    """A hull and the sun over one day at its place, clouds left out; angles in degrees from true north.

    ``track`` is the sun's azimuth every ten minutes it is up.
    """

    at: datetime
    heading_true_deg: float
    azimuth_deg: float
    elevation_deg: float
    rise: tuple[datetime, float] | None
    set: tuple[datetime, float] | None
    track: tuple[float, ...]
    sides: tuple[Side, ...]
    start_by: datetime | None
    start_from: datetime | None
    slot_minutes: int
    panels: tuple[str, ...]


def of(visit: Visit, at: datetime, heading_true_deg: float) -> SunFacts:
    """The sun facts of a visit's hull at a moment; the slot is the visit and the time its film levels."""
    place = visit.stage.job.boat.place
    slot, panels = _slot(visit)
    hull = shade.Hull(
        heading_true_deg=heading_true_deg, flare_deg=rates.limits().flare_deg
    )
    lain = (facts.site(place, _day(at, ZoneInfo(place.time_zone))), hull)
    fit = _shaded_slot(visit.stage, lain, at, slot) if panels else None
    return replace(
        lying(place, at, heading_true_deg),
        start_by=fit.end - slot if fit else None,
        start_from=fit.start if fit else None,
        slot_minutes=round(slot / timedelta(minutes=1)),
        panels=panels,
    )


def lying(place: Place, at: datetime, heading_true_deg: float) -> SunFacts:
    """The sun facts of a hull at a place and moment, whatever is to be done to her."""
    day = _day(at, ZoneInfo(place.time_zone))
    site = facts.site(place, day)
    flare = rates.limits().flare_deg
    hull = shade.Hull(heading_true_deg=heading_true_deg, flare_deg=flare)
    azimuth, elevation = sun.series(site.lat, site.lon, [at])
    up = _up(site, day)
    return SunFacts(
        at=at,
        heading_true_deg=heading_true_deg,
        azimuth_deg=float(azimuth[0]),
        elevation_deg=float(elevation[0]),
        rise=up[0] if up else None,
        set=up[-1] if up else None,
        track=tuple(bearing for _, bearing in up[::2]),
        sides=tuple(_side(site, hull, panel, Span(at, day.end)) for panel in SIDES),
        start_by=None,
        start_from=None,
        slot_minutes=0,
        panels=(),
    )


def _day(at: datetime, zone: ZoneInfo) -> Span:
    local = at.astimezone(zone)
    start = local.replace(hour=0, minute=0, second=0, microsecond=0)
    return Span(start, start + timedelta(days=1))


def _slot(visit: Visit) -> tuple[timedelta, tuple[str, ...]]:
    stage = visit.stage
    tail = visit_waits.level(
        stage, facts.coldest_c(stage, (Span(visit.start, visit.end),))
    )
    panels = tuple(panel for panel in stage.panels if panel in SIDES)
    return visit.end - visit.start + timedelta(minutes=round(tail)), panels


def _side(site: Site, hull: shade.Hull, panel: str, rest: Span) -> Side:
    spans = shade.shade_spans(site, hull, panel, rest, step_minutes=_STEP_MINUTES)
    first = next(iter(spans), None)
    if first is None:
        return Side(panel=panel, shaded=False, until=None)
    shaded = first.start <= rest.start
    change = first.end if shaded else first.start
    return Side(panel=panel, shaded=shaded, until=change if change < rest.end else None)


def _shaded_slot(
    stage: Stage, hull: tuple[Site, shade.Hull], at: datetime, slot: timedelta
) -> Span | None:
    """The next span of the place's hours in which every panel of a stage is shaded for a whole slot."""
    place = stage.job.boat.place
    rest = Span(at, _day(at, ZoneInfo(place.time_zone)).end)
    free = windows.access(place, rest)
    for panel in (panel for panel in stage.panels if panel in SIDES):
        free = intersect(free, shade.shade_spans(*hull, panel, rest, step_minutes=1))
    return next((span for span in free if span.length >= slot), None)


def _up(site: Site, day: Span) -> list[tuple[datetime, float]]:
    """The steps of a day at which the sun is over the true horizon, each with its azimuth."""
    unix = shade.grid(day, _STEP_MINUTES)
    azimuth, elevation = sun.angles(site.lat, site.lon, unix)
    return [
        (day.start + index * timedelta(minutes=_STEP_MINUTES), float(azimuth[index]))
        for index in range(len(unix))
        if elevation[index] > 0
    ]
