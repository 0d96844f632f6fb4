"""What the crew reads on a hull: its temperature, the air beside it, which way she heads."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    clock,
    due,
    facts,
    history,
    rates,
    rejudging,
    reporting,
    turns,
)
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Boat, Outfit, Person, Reading, Stage
from dispatch.trade.readings import HullReading
from dispatch.trade.spans import Span
from dispatch.trade.words import Words

_KINDS: Mapping[str, tuple[str, float, float]] = {
    "surface_c": ("The hull's temperature", -30, 80),
    "air_c": ("The air's temperature", -40, 55),
    "rh_pct": ("The humidity", 1, 100),
}
_TURNED_MOST = 360


@dataclass(frozen=True, kw_only=True)
class Read:
    """What was read at one moment, Celsius and percent; None where one was not read."""

    surface_c: float | None = None
    air_c: float | None = None
    rh_pct: float | None = None


@transaction.atomic
def take(stage: Stage, person: Person, at: datetime, read: Read) -> None:
    """Store what was read on a stage's boat, when it was read, and have the sky judged again by it.

    Until that is done her stages are unknown.

    Raises:
        Stranger: the person neither rides to her that day nor owns the outfit.
        Refused: the time or a number cannot be right, or nothing was read.
        Stale: the same was told before.
    """
    by = reporting.reporter(stage, person)
    boat, values = stage.job.boat, _values(read)
    _time(stage, at)
    for kind, value in values.items():
        _, new = Reading.objects.get_or_create(
            boat=boat,
            kind=kind,
            read_at=at,
            defaults={"value": value, "arrived_at": clock.now(), "by": by},
        )
        if not new:
            raise Stale(
                f"What was read at {_local(boat, at)} is stored already. Nothing was changed."
            )
    _judge_again(boat, f"She was read at {_local(boat, at)}")
    told = said(HullReading(at=at, **values), boat, rates.limits().reading_hours)
    history.write(
        "read-hull",
        f"job {stage.job.key}",
        f"{boat.name}: {told}",
        by=by,
        actor=person.name,
    )


@transaction.atomic
def head(
    stage: Stage, person: Person, at: datetime, heading_deg: float, reference: str
) -> None:
    """Store which way a boat was read to head, and have what hangs on it reckoned again.

    Raises:
        Stranger: the person neither rides to her that day nor owns the outfit.
        Refused: the time or the heading cannot be right, or the place's declination is needed and not known.
    """
    by = reporting.reporter(stage, person)
    boat = stage.job.boat
    _time(stage, at)
    if not 0 <= heading_deg <= _TURNED_MOST:
        raise Refused(
            f"A heading lies from 0 to 360°, not {heading_deg:g}. Read it again."
        )
    if reference not in Boat.HeadingReference.values:
        raise Refused("Say whether the heading is true or by compass.")
    if reference == "magnetic" and boat.place.declination_deg is None:
        raise Refused(
            f"{boat.place.name} has no declination, so a compass reading cannot be turned to true. Ask the owner to enter it."
        )
    Reading.objects.create(
        boat=boat,
        kind=Reading.Kind.HEADING,
        value=heading_deg % 360,
        read_at=at,
        arrived_at=clock.now(),
        by=by,
    )
    told = turns.lies(boat, heading_deg % 360, reference, at)
    _judge_again(boat, f"Her heading was read at {_local(boat, at)}")
    history.write(
        "read-heading", f"job {stage.job.key}", told, by=by, actor=person.name
    )


def lines(boat: Boat, now: datetime, words: Words | None = None) -> Iterator[str]:
    """What was read on a boat that still counts, the newest first, in sentences."""
    limits = rates.limits()
    for read in reversed(
        facts.readings(boat, Span(now, now + timedelta(minutes=1)), limits)
    ):
        yield said(read, boat, limits.reading_hours, words)


def said(
    read: HullReading, boat: Boat, hours: float, words: Words | None = None
) -> str:
    """A reading in a sentence, with the spread it leaves where that follows from it."""
    own = words or Words(system=Outfit.objects.get().units)
    parts = []
    if read.surface_c is not None:
        parts.append(f"hull {own.degrees(read.surface_c)}")
    if read.air_c is not None:
        parts.append(f"air {own.degrees(read.air_c)}")
    if read.rh_pct is not None:
        parts.append(f"humidity {read.rh_pct:.0f} %")
    if read.dew_c is not None:
        parts.append(f"so dew point {own.degrees(read.dew_c)}")
        if read.surface_c is not None:
            parts.append(f"spread {own.difference(read.surface_c - read.dew_c)}")
    until = _local(boat, read.at + timedelta(hours=hours))
    return f"Read {_local(boat, read.at)}: {', '.join(parts)}. It counts until {until}."


def _values(read: Read) -> dict[str, float]:
    values = {}
    for kind, (what, least, most) in _KINDS.items():
        value: float | None = getattr(read, kind)
        if value is None:
            continue
        if not least <= value <= most:
            raise Refused(f"{what} cannot be {_number(kind, value)}. Read it again.")
        values[kind] = value
    if not values:
        raise Refused("Nothing was read. Enter at least one number.")
    return values


def _number(kind: str, value: float) -> str:
    words = Words(system=Outfit.objects.get().units)
    return f"{value:.0f} %" if kind == "rh_pct" else words.degrees(value)


def _time(stage: Stage, at: datetime) -> None:
    now, hours = clock.now(), rates.limits().reading_hours
    if at > now:
        raise Refused(
            f"{_local(stage.job.boat, at)} has not come yet; it is {_local(stage.job.boat, now)}. Check the time."
        )
    if at < now - timedelta(hours=hours):
        raise Refused(
            f"{_local(stage.job.boat, at)} is longer ago than the {hours:g} h a reading counts. Read her again."
        )


def _judge_again(boat: Boat, why: str) -> None:
    """Have her open stages judged anew; till then what was judged before counts no more."""
    rejudging.again(list(facts.open_stages().filter(job__boat=boat)), why)
    due.put("reckon-film", boat.place.key)


def _local(boat: Boat, moment: datetime) -> str:
    return f"{moment.astimezone(ZoneInfo(boat.place.time_zone)):%H:%M}"
