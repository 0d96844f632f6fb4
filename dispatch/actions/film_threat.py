"""What threatens film that is wet: the first rain or dew before it is rain-safe, by the newest forecast of its place."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from dispatch.actions import board_sky, covered, facts, rates
from dispatch.actions.board import BoatRow, Film, Hour
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.records.models import Place, Stage
from dispatch.trade.spans import Span

_HOUR = timedelta(hours=1)
# An assumption: a cover that is pulled over in the first drops comes too late.
BEFORE = timedelta(minutes=15)


@dataclass(frozen=True, kw_only=True)
class Threat:
    """Rain or dew that reaches wet film, and from when on; ``safe`` is when all of it is rain-safe, None where not known."""

    what: str
    at: datetime
    safe: datetime | None


def of(reading: Reading, row: BoatRow, now: datetime) -> str:
    """What comes before a boat's film is rain-safe, in a few words; empty where the forecast has nothing against it.

    Where no forecast tells of all those hours, that is what it says: unknown is never fine.
    """
    laid = wet(reading, row, now)
    if not laid:
        return ""
    found = threats(reading, row, now)
    if found:
        zone = reading.line.zone
        return ", ".join(f"{one.what} {when(one.at, zone)}" for one in found)
    until = _safe(laid) or reading.horizon.end
    hours = _hours(place(reading, row), now, until)
    return (
        ""
        if _known(hours, now, until)
        else "what the sky brings till then is not known"
    )


def threats(reading: Reading, row: BoatRow, now: datetime) -> tuple[Threat, ...]:
    """The first hour of rain and the first of dew before a boat's wet film is safe; film under a roof is kept from both."""
    laid = wet(reading, row, now)
    if not laid:
        return ()
    safe = _safe(laid)
    found = coming(place(reading, row), now, safe or reading.horizon.end)
    return tuple(Threat(what=what, at=max(at, now), safe=safe) for what, at in found)


def coming(where: Place, now: datetime, until: datetime) -> list[tuple[str, datetime]]:
    """The first hour of rain and the first of dew at a place before a moment, by its newest forecast."""
    return list(_threats(_hours(where, now, until)))


def place(reading: Reading, row: BoatRow) -> Place:
    """Where a boat of the board lies."""
    return next(one for one in reading.jobs if one.key == row.job).boat.place


def wet(reading: Reading, row: BoatRow, now: datetime) -> list[Film]:
    """A boat's film that is not rain-safe and lies open: under no roof, and under no cover that somebody said is on."""
    if covered.is_on(row.job):
        return []
    return [
        film
        for film in row.films
        if film.laid_at <= now
        and (film.rain_safe is None or film.rain_safe > now)
        and not _roofed(reading, film)
    ]


def _roofed(reading: Reading, film: Film) -> bool:
    stage = reading.stages.get(film.stage)
    return stage is not None and stage.cover == Stage.Cover.ROOF


def _safe(wet: Sequence[Film]) -> datetime | None:
    """When the last of some film is rain-safe; None where that of any is not known."""
    safe = [film.rain_safe for film in wet if film.rain_safe is not None]
    return max(safe) if len(safe) == len(wet) else None


def _hours(where: Place, now: datetime, until: datetime) -> tuple[Hour, ...]:
    """The hours from the one that is going on until a moment, as far as they are forecast."""
    newest = facts.latest_forecast(where, now)
    since = now - _HOUR + timedelta(seconds=1)
    return board_sky.hours_at(where, newest, Span(since, until))


def _known(hours: Sequence[Hour], now: datetime, until: datetime) -> bool:
    """Whether rain and dew of every hour from now until a moment are forecast."""
    return (
        bool(hours)
        and hours[0].at <= now
        and hours[-1].at + _HOUR >= until
        and all(after.at - before.at <= _HOUR for before, after in pairwise(hours))
        and not any(
            None in (hour.spread_k, hour.rain_mm, hour.rain_prob_pct) for hour in hours
        )
    )


def _threats(hours: tuple[Hour, ...]) -> Iterator[tuple[str, datetime]]:
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
