"""The spray slots of the weeks ahead, by the sun and the places' hours alone: the sky of them nobody knows yet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import clock, facts, rates, stages, windows
from dispatch.actions.errors import Refused
from dispatch.actions.sun_facts import SIDES
from dispatch.records.models import Stage
from dispatch.trade import shade
from dispatch.trade.spans import Span, intersect

_WEEK = timedelta(days=7)


@dataclass(frozen=True, kw_only=True)
class SlotsAhead:
    """Of one week: ``days`` are the days, summed over all sides still to be sprayed, on which one could be laid in shade.

    ``sides`` are those sides; ``unknown`` the boats of which nobody read how they lie.
    """

    days: int
    sides: int
    unknown: tuple[str, ...]


def of(mondays: Sequence[date]) -> tuple[SlotsAhead, ...]:
    """The slots of each week that begins on a Monday; the weeks follow on one another."""
    open_sides = list(_sides())
    unknown = tuple(sorted({s.job.boat.name for s, at in open_sides if at is None}))
    if not mondays:
        return ()
    known = [(stage, at) for stage, at in open_sides if at is not None]
    first = max(_midnight(mondays[0]), clock.now())
    span = Span(first, max(first, _midnight(mondays[-1] + _WEEK)))
    laid = [day for stage, at in known for day in _days(stage, at, span)]
    return tuple(
        SlotsAhead(
            days=sum(monday <= day < monday + _WEEK for day in laid),
            sides=len(known),
            unknown=unknown,
        )
        for monday in mondays
    )


def _sides() -> Iterator[tuple[Stage, float | None]]:
    """Each side still to be sprayed without a posted visit, by one way of its job, with the boat's true heading."""
    rows = facts.open_stages().filter(family="spray", visit=None, extra=False)
    for stage in rows:
        one_way = stage.variant in ("", "as-she-lies")
        if one_way and set(stage.panels) & set(SIDES):
            yield stage, _heading(stage)


def _heading(stage: Stage) -> float | None:
    try:
        return stages.true_heading(stage.job)
    except Refused:
        return None


def _days(stage: Stage, heading: float, span: Span) -> Iterator[date]:
    """The days on which shade and the place's hours leave a stage the time it takes."""
    limits, place = rates.limits(), stage.job.boat.place
    own = facts.work(stage, span, limits)
    needed = timedelta(minutes=own.quickest_minutes + own.tail_minutes)
    hull = shade.Hull(heading_true_deg=heading % 360, flare_deg=limits.flare_deg)
    panels = tuple(one for one in stage.panels if one in SIDES)
    shades = shade.panel_shades(facts.site(place, span), hull, panels, span)
    free: Sequence[Span] = windows.access(place, span)
    for panel in panels:
        free = intersect(free, shades[panel])
    zone = ZoneInfo(place.time_zone)
    yield from sorted(
        {s.start.astimezone(zone).date() for s in free if s.length >= needed}
    )


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time(0), tzinfo=UTC)
