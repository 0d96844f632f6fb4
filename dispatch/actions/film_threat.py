"""What threatens film that is wet: the first rain or dew before it is rain-safe, by the newest forecast of its place.

A roof keeps both off until the first gust at which it must be down; from then on it counts as gone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import board_sky, covered, rates, struck
from dispatch.actions.board import BoatRow, Hour
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.actions.struck import Keeper
from dispatch.records.models import Place
from dispatch.trade.sky import HOUR

# An assumption: a cover that is pulled over in the first drops comes too late.
BEFORE = timedelta(minutes=15)


@dataclass(frozen=True, kw_only=True)
class Threat:
    """Rain or dew that reaches wet film, and from when on; ``safe`` is when all of it is rain-safe, None where not known.

    ``bares`` says what has the roof over it down before that; empty in the open.
    """

    what: str
    at: datetime
    safe: datetime | None
    bares: str = ""


@dataclass(frozen=True, kw_only=True)
class Wet:
    """Film that is not rain-safe: until when, None where not known, and what is over it, None in the open."""

    safe: datetime | None
    keeper: Keeper | None = None


def of(reading: Reading, row: BoatRow, now: datetime) -> str:
    """What comes before a boat's film is rain-safe, in a few words; empty where the forecast has nothing against it.

    Where no forecast tells of all those hours, that is what it says: unknown is never fine.
    """
    films, where = _films(reading, row, now), place(reading, row)
    farthest = reading.horizon.end
    found = upon(where, films, now, farthest)
    if found:
        bares = dict.fromkeys(one.bares for one in found if one.bares)
        zone = reading.line.zone
        return ", ".join(
            (*bares, *(f"{one.what} {when(one.at, zone)}" for one in found))
        )
    known = all(_known(where, film, now, film.safe or farthest) for film in films)
    return "" if known else "what the sky brings till then is not known"


def threats(reading: Reading, row: BoatRow, now: datetime) -> tuple[Threat, ...]:
    """The first hour of rain and the first of dew that reach a boat's wet film before it is safe."""
    films = _films(reading, row, now)
    return upon(place(reading, row), films, now, reading.horizon.end)


def upon(
    where: Place, films: Sequence[Wet], now: datetime, farthest: datetime
) -> tuple[Threat, ...]:
    """The same of any film at a place; of film whose end is not known until the farthest moment."""
    found = [
        threat
        for keeper in dict.fromkeys(film.keeper for film in films)
        for threat in _reaches(where, _under(films, keeper), now, farthest)
    ]
    found.sort(key=lambda one: one.at)
    kinds = (
        next((one for one in found if one.what.startswith(kind)), None)
        for kind in ("rain", "dew")
    )
    return tuple(one for one in kinds if one)


def _under(films: Sequence[Wet], keeper: Keeper | None) -> Wet:
    """The films under one thing as one: safe when the last of them is."""
    ends = [film.safe for film in films if film.keeper == keeper]
    known = [end for end in ends if end is not None]
    return Wet(safe=max(known) if len(known) == len(ends) else None, keeper=keeper)


def _reaches(
    where: Place, film: Wet, now: datetime, farthest: datetime
) -> Iterator[Threat]:
    until, since, bares = film.safe or farthest, now, ""
    if film.keeper is not None:
        down = struck.first(film.keeper, where, now, until)
        if down is None:
            return
        since = down.at
        bares = struck.says(film.keeper, down, ZoneInfo(where.time_zone))
    hours = board_sky.hours_from(where, now, until)
    for what, at in _threats(_since(hours, since)):
        yield Threat(what=what, at=max(at, since), safe=film.safe, bares=bares)


def place(reading: Reading, row: BoatRow) -> Place:
    """Where a boat of the board lies."""
    return next(one for one in reading.jobs if one.key == row.job).boat.place


def wet(reading: Reading, row: BoatRow, now: datetime) -> list[Wet]:
    """A boat's film that is not rain-safe and lies open, or will once the roof over it must be down."""
    where, farthest = place(reading, row), reading.horizon.end
    return [
        film
        for film in _films(reading, row, now)
        if film.keeper is None
        or struck.first(film.keeper, where, now, film.safe or farthest)
    ]


def kept_by(reading: Reading, row: BoatRow, now: datetime) -> str:
    """What is over a boat's wet film and whether it can stay; empty where nothing is over any of it."""
    where, farthest = place(reading, row), reading.horizon.end
    found = dict.fromkeys(
        f"covered by {film.keeper.name}"
        + (f"; {stays}" if (stays := _stays(where, film, now, farthest)) else "")
        for film in _films(reading, row, now)
        if film.keeper is not None
    )
    return ", ".join(found)


def _stays(where: Place, film: Wet, now: datetime, farthest: datetime) -> str:
    if film.keeper is None:
        return ""
    return struck.till(film.keeper, where, now, film.safe or farthest)


def _films(reading: Reading, row: BoatRow, now: datetime) -> list[Wet]:
    """A boat's film that is laid and not rain-safe."""
    cover = covered.standing().get(row.job)
    return [
        Wet(
            safe=film.rain_safe,
            keeper=struck.over(reading.stages.get(film.stage), cover),
        )
        for film in row.films
        if film.laid_at <= now and (film.rain_safe is None or film.rain_safe > now)
    ]


def _known(where: Place, film: Wet, now: datetime, until: datetime) -> bool:
    """Whether rain and dew are forecast until a moment; under a roof gusts, and rain and dew from when that must be down."""
    since, keeper = now, film.keeper
    if keeper is not None:
        if keeper.down_gust_ms is None:
            return True
        down = struck.first(keeper, where, now, until)
        before = down.at if down else until
        hours = board_sky.hours_from(where, now, before)
        if before > now and not board_sky.told(hours, now, before, "gust_ms"):
            return False
        if down is None:
            return True
        since = down.at
    hours = board_sky.hours_from(where, now, until)
    return board_sky.told(
        _since(hours, since), since, until, "spread_k", "rain_mm", "rain_prob_pct"
    )


def _since(hours: Sequence[Hour], moment: datetime) -> Sequence[Hour]:
    """The hours from the one that holds a moment on."""
    return [hour for hour in hours if hour.at + HOUR > moment]


def _threats(hours: Sequence[Hour]) -> Iterator[tuple[str, datetime]]:
    """The first hour of rain and the first of dew."""
    limits = rates.limits()
    for hour in hours:
        mm, chance = hour.rain_mm or 0.0, hour.rain_prob_pct or 0.0
        if mm >= limits.rain_mm or chance >= limits.rain_prob_pct:
            untold = hour.rain_prob_pct is None
            yield "rain" if untold else f"rain ({chance:.0f} %)", hour.at
            break
    for hour in hours:
        if hour.spread_k is not None and hour.spread_k <= 0:
            yield "dew", hour.at
            break
