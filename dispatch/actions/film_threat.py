"""What threatens film that is wet: the first rain or dew before it is rain-safe, by the newest forecast of its place."""

from collections.abc import Iterator
from datetime import datetime

from dispatch.actions import board_sky, facts, rates
from dispatch.actions.board import BoatRow, Hour
from dispatch.actions.board_reading import Reading
from dispatch.actions.board_words import when
from dispatch.trade.spans import Span


def of(reading: Reading, row: BoatRow, now: datetime) -> str:
    """What comes before a boat's film is rain-safe, in a few words; empty where the forecast has nothing against it.

    Where no forecast tells of all those hours, that is what it says: unknown is never fine.
    """
    wet = [
        film.rain_safe
        for film in row.films
        if film.laid_at <= now and (film.rain_safe is None or film.rain_safe > now)
    ]
    if not wet:
        return ""
    safe = [moment for moment in wet if moment is not None]
    until = max(safe) if len(safe) == len(wet) else reading.horizon.end
    span = Span(now, until)
    job = next(one for one in reading.jobs if one.key == row.job)
    place = job.boat.place
    hours = board_sky.hours_at(place, facts.latest_forecast(place, now), span)
    if not hours or any(hour.spread_k is None for hour in hours):
        return "what the sky brings till then is not known"
    threats = (f"{what} {when(at, reading.line.zone)}" for what, at in _threats(hours))
    return ", ".join(threats)


def _threats(hours: tuple[Hour, ...]) -> Iterator[tuple[str, datetime]]:
    """The first hour of rain and the first of dew."""
    limits = rates.limits()
    for hour in hours:
        mm, chance = hour.rain_mm or 0.0, hour.rain_prob_pct or 0.0
        if mm >= limits.rain_mm or chance >= limits.rain_prob_pct:
            yield f"rain ({chance:.0f} %)", hour.at
            break
    for hour in hours:
        if hour.spread_k is not None and hour.spread_k <= 0:
            yield "dew", hour.at
            break
