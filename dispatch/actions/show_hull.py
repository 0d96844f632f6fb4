"""A boat for the owner: how she lies, her sides' shade by day and week, whether to turn her, her numbers."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import (
    clock,
    facts,
    not_turned,
    rates,
    readings,
    stages,
    sun_facts,
    turns,
    windows,
)
from dispatch.actions.errors import Refused
from dispatch.actions.sun_facts import SIDES, SunFacts
from dispatch.actions.turns import Turn
from dispatch.records.models import Boat, Job, Outfit, Place
from dispatch.trade import numbers, shade
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_DAYS = 7


@dataclass(frozen=True, kw_only=True)
class ShadeDay:
    """One day of the place: its whole span, the hours it may be worked at, the shade of each side."""

    day: date
    span: Span
    access: tuple[Span, ...]
    shade: Mapping[str, tuple[Span, ...]]


@dataclass(frozen=True, kw_only=True)
class Turned:
    """What a turn would do for one job, in a sentence and in numbers; ``why_not`` what is against it now, empty where nothing is."""

    job: str
    sentence: str
    turn: Turn
    why_not: str = ""


@dataclass(frozen=True, kw_only=True)
class Hull:
    """Everything the boat's page shows; ``sun`` is None and ``unknown`` says why where nobody knows how she lies."""

    boat: Boat
    about: str
    zone: ZoneInfo
    lies: str
    unknown: str
    sun: SunFacts | None
    days: tuple[ShadeDay, ...]
    turns: tuple[Turned, ...]
    marks: tuple[tuple[str, str, str], ...]
    readings: tuple[str, ...]
    jobs: tuple[Job, ...]


def of(boat: Boat, at: datetime | None = None) -> Hull:
    """A boat at a moment, now unless another is asked for."""
    moment, zone = at or clock.now(), ZoneInfo(boat.place.time_zone)
    words = Words(system=Outfit.objects.get().units)
    heading, unknown = _heading(boat)
    jobs = tuple(boat.jobs.select_related("kind", "sheet", "boat__place"))
    return Hull(
        boat=boat,
        about=f"{words.distance(boat.length_m)} {boat.hull_colour} {boat.shape.replace('-', ' ')}",
        zone=zone,
        lies=_lies(boat, heading),
        unknown=unknown,
        sun=None if heading is None else sun_facts.lying(boat.place, moment, heading),
        days=()
        if heading is None
        else tuple(_days(boat.place, heading, moment.astimezone(zone).date())),
        turns=tuple(_turns(jobs)),
        marks=tuple(_marks(boat)),
        readings=tuple(readings.lines(boat, clock.now(), words)),
        jobs=jobs,
    )


def _heading(boat: Boat) -> tuple[float | None, str]:
    try:
        heading = stages.true_heading(Job(boat=boat))
    except Refused as refusal:
        return None, str(refusal)
    if heading is None:
        return None, "Nobody has read which way she heads, so shade is not known."
    return heading % 360, ""


def _lies(boat: Boat, heading: float | None) -> str:
    if heading is None:
        return ""
    read = (
        f", read {boat.heading_read_on.day} {boat.heading_read_on:%B}"
        if boat.heading_read_on
        else ", the day it was read is not known"
    )
    compass = (
        f" ({boat.heading_deg:03.0f}° by compass, declination {boat.place.declination_deg:g}°)"
        if boat.heading_reference == Boat.HeadingReference.MAGNETIC
        else ""
    )
    return f"She heads {heading:03.0f}° true{compass}{read}."


def _days(place: Place, heading: float, first: date) -> Iterator[ShadeDay]:
    zone = ZoneInfo(place.time_zone)
    hull = shade.Hull(heading_true_deg=heading, flare_deg=rates.limits().flare_deg)
    for day in (first + timedelta(days=ahead) for ahead in range(_DAYS)):
        start, end = (
            datetime.combine(one, time(0), tzinfo=zone)
            for one in (day, day + timedelta(days=1))
        )
        span = Span(start, end)
        yield ShadeDay(
            day=day,
            span=span,
            access=windows.access(place, span),
            shade=shade.panel_shades(facts.site(place, span), hull, SIDES, span),
        )


def _turns(jobs: tuple[Job, ...]) -> Iterator[Turned]:
    for job in jobs:
        if job.state in (Job.State.AGREED, Job.State.IN_HAND):
            turn = turns.of(job, turns.ahead())
            if turn is not None:
                yield Turned(
                    job=job.key,
                    sentence=turns.said(turn),
                    turn=turn,
                    why_not=not_turned.why(job),
                )


def _marks(boat: Boat) -> Iterator[tuple[str, str, str]]:
    """Her registration and hull number: what it is, as it is entered, and what looks wrong with it."""
    yield (
        "Registration",
        numbers.vessel_shown(boat.registration),
        numbers.doubt(boat.registration) if boat.registration else "",
    )
    yield (
        "Hull number",
        boat.hull_number,
        numbers.hull_doubt(boat.hull_number) if boat.hull_number else "",
    )
