"""Film that rain or dew reaches while it is wet: cover her, by when, and which roof can be there."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import covered, film_threat, roofs, struck
from dispatch.actions.board import BoatRow, Film, Snag
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import lasting, when
from dispatch.actions.film_threat import Threat
from dispatch.actions.roofs import Roof
from dispatch.records.models import Cover, Place
from dispatch.trade.sky import HOUR


def snags(reading: Reading, boats: Sequence[BoatRow]) -> Iterator[Snag]:
    """A snag for each boat whose wet film is threatened, the heaviest of all: what is laid cannot be laid again.

    So is a plan that takes the roof away from over film that is wet still.
    """
    for row in boats:
        found = film_threat.threats(reading, row, reading.now)
        cover = covered.standing().get(row.job)
        if found:
            first = min(found, key=lambda one: one.at)
            yield _snag(reading, row, first, cover)
        if cover is not None:
            yield from _taken_away(reading, row, cover)


def _snag(reading: Reading, row: BoatRow, threat: Threat, cover: Cover | None) -> Snag:
    if cover is None:
        return _ask(reading, row, threat)
    if cover.on_at is None:
        return _asked(reading, row, threat, cover)
    return _bared(reading, row, threat, cover)


def _says(reading: Reading, threat: Threat) -> str:
    zone = reading.line.zone
    safe = (
        f"it is rain-safe about {when(threat.safe, zone)}"
        if threat.safe
        else "no rain-safe time is forecast"
    )
    comes = f"{threat.what} comes {when(threat.at, zone)}"
    if threat.bares:
        comes = f"{threat.bares}, and {comes}"
    return f"Her film is wet and {safe}; {comes}."


def _ask(reading: Reading, row: BoatRow, threat: Threat) -> Snag:
    """By when she is to be covered, and the roof that stands over her soonest, to be asked for by one tap."""
    by = threat.at - film_threat.BEFORE
    late = by <= reading.now
    cover = "Cover her now" if late else f"Cover her by {when(by, reading.line.zone)}"
    roof, words = _soonest(reading, row, threat)
    return Snag(
        weight=101,
        subject=row.boat,
        sentence=_says(reading, threat),
        mend=f"{cover}: {words}.",
        setting="sky",
        does="cover",
        about=f"cover:{row.job}:{roof}",
    )


def _soonest(reading: Reading, row: BoatRow, threat: Threat) -> tuple[str, str]:
    """The key of the roof that can be over her soonest, empty where none is in time; and what there is, in words.

    None is offered for hours in which it must be down.
    """
    where = film_threat.place(reading, row)
    free = roofs.free(reading, where)
    if not free:
        return "", "no roof of the outfit is free, so with what can be had"
    may = [one for one in free if not falls(one, where, reading.now, threat)]
    if not may:
        return (
            "",
            f"{falls(free[0], where, reading.now, threat)}, so with what can be had",
        )
    roof = may[0]
    ready = reading.now + timedelta(minutes=roof.minutes)
    stands = f"{roof.name}, now at {roof.where}, can stand over her in {lasting(roof.minutes)}, ${roof.cents / 100:,.0f} of labour"
    if ready > threat.at:
        late = f"{stands}, which is after the {threat.what.split()[0]}"
        return "", f"{late}; cover her with what can be had till then"
    until = threat.safe or reading.horizon.end
    return roof.key, f"{stands}; {struck.till(roof.keeper, where, reading.now, until)}"


def falls(roof: Roof, where: Place, now: datetime, threat: Threat) -> str:
    """Why a roof is not over her when rain or dew comes, as it must be down by then; empty where it may be."""
    found = struck.first(roof.keeper, where, now, threat.at + HOUR)
    return struck.says(roof.keeper, found, ZoneInfo(where.time_zone)) if found else ""


def _asked(reading: Reading, row: BoatRow, threat: Threat, cover: Cover) -> Snag:
    """A cover was asked for, and nobody has said that it is on: till then she counts as open."""
    zone = reading.line.zone
    by = f", to be on by {when(cover.by_when, zone)}" if cover.by_when else ""
    asked = f"Asked for {when(cover.asked_at, zone)}: {covered.name(cover)}{by}."
    return Snag(
        weight=101,
        subject=row.boat,
        sentence=_says(reading, threat),
        mend=f"{asked} Nobody has said yet that it is on.",
        setting="sky",
        does="covered",
        about=f"covered:{cover.pk}",
    )


def _bared(reading: Reading, row: BoatRow, threat: Threat, cover: Cover) -> Snag:
    """The roof over her must be down before her film can bear what comes."""
    by = max(threat.at - film_threat.BEFORE, reading.now)
    return Snag(
        weight=101,
        subject=row.boat,
        sentence=_says(reading, threat),
        mend=f"Say here that {covered.name(cover)} is off once it is down, and cover her by {when(by, reading.line.zone)} with what can be had.",
        setting="sky",
    )


def _taken_away(reading: Reading, row: BoatRow, cover: Cover) -> Iterator[Snag]:
    """A plan that tows the roof off while film beneath it is wet."""
    safe = _needed_till(row.films, reading.now)
    stops = [stop for day in reading.van_days for stop in day["stops"]]
    for stop in stops:
        if cover.equipment is None or stop.get("trailer") != cover.equipment.key:
            continue
        at, zone = reading.line.moment(stop["start"]), reading.line.zone
        if at > reading.now and (safe is None or at < safe):
            till = f"to {when(safe, zone)}" if safe else "and no end is forecast"
            yield Snag(
                weight=100,
                subject=row.boat,
                sentence=f"{cover.equipment.name} covers her wet film {till}, and leaves her {when(at, zone)} in this plan.",
                mend="Plan the rest anew once she is rain-safe, or take another roof there.",
            )


def _needed_till(films: Sequence[Film], now: datetime) -> datetime | None:
    """When the last film that is laid is rain-safe; None where that of any is not known."""
    ends = [film.rain_safe for film in films if film.laid_at <= now]
    known = [end for end in ends if end is not None]
    return max(known, default=now) if len(known) == len(ends) else None
