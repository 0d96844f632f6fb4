"""The sky over the base, hour by hour."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from dispatch.actions import facts, hand_sky, rates
from dispatch.actions.board import Hour, SkyRibbon
from dispatch.actions.board_reading import Reading
from dispatch.records.models import Forecast, Place
from dispatch.trade import air, shade, sun
from dispatch.trade.limits import FAMILIES
from dispatch.trade.sky import HOUR, SkyHour, local
from dispatch.trade.spans import Span


def ribbon(reading: Reading) -> SkyRibbon:
    """The newest sky at the base, by its own forecast or, where it has none, by the nearest place's."""
    limits = rates.family("spray") or FAMILIES["spray"]
    base = base_of(reading)
    forecast = _forecast(reading, base) if base else None
    entered = hand_sky.of(forecast) if forecast else None
    return SkyRibbon(
        place=base.name if base else "",
        hours=hours_at(base, forecast, reading.horizon) if base else (),
        issued_at=forecast.issued_at if forecast else None,
        gust_limit_ms=limits.gust_max_ms,
        spread_limit_k=limits.spread_min_k,
        by_hand=entered.sentence if entered else "",
        stale=forecast is not None and _is_old(reading, forecast),
    )


def hours_at(place: Place, forecast: Forecast | None, span: Span) -> tuple[Hour, ...]:
    """The hours of a forecast within a span, as a place has them; none where there is no forecast."""
    found = facts.sky_of(forecast, span)
    site, model = facts.site(place, span), rates.surface_model()
    return tuple(
        _hour(hour, place, model)
        for hour in (local(found, site).hours if found else ())
        if span.holds(hour.at)
    )


def hours_from(place: Place, now: datetime, until: datetime) -> tuple[Hour, ...]:
    """The hours from the one that is going on until a moment, as far as a place's newest forecast tells of them."""
    newest = facts.latest_forecast(place, now)
    since = now - HOUR + timedelta(seconds=1)
    return hours_at(place, newest, Span(since, until)) if until > since else ()


def told(hours: Sequence[Hour], now: datetime, until: datetime, *names: str) -> bool:
    """Whether some numbers of every hour from now until a moment are forecast."""
    return (
        bool(hours)
        and hours[0].at <= now
        and hours[-1].at + HOUR >= until
        and all(after.at - before.at <= HOUR for before, after in pairwise(hours))
        and not any(getattr(hour, name) is None for hour in hours for name in names)
    )


def _is_old(reading: Reading, forecast: Forecast) -> bool:
    """Whether a forecast is so old that the board says so."""
    hours = rates.board().stale_hours
    return reading.now - forecast.issued_at > timedelta(hours=hours)


def base_of(reading: Reading) -> Place | None:
    """The place the outfit works from; the first of all places where none is marked."""
    places = list(reading.places.values())
    return next((place for place in places if place.is_base), next(iter(places), None))


def _forecast(reading: Reading, base: Place) -> Forecast | None:
    def away(place: Place) -> float:
        return (place.latitude - base.latitude) ** 2 + (
            place.longitude - base.longitude
        ) ** 2

    for place in sorted(reading.places.values(), key=away):
        found = facts.latest_forecast(place, reading.now)
        if found is not None:
            return found
    return None


def _hour(hour: SkyHour, base: Place, model: air.SurfaceModel) -> Hour:
    return Hour(
        at=hour.at,
        air_c=hour.air_c,
        spread_k=_spread(hour, base, model),
        gust_ms=hour.gust_ms,
        cloud_pct=hour.cloud_pct,
        rain_mm=hour.rain_mm,
        rain_prob_pct=hour.rain_prob_pct,
    )


def _spread(hour: SkyHour, base: Place, model: air.SurfaceModel) -> float | None:
    if hour.air_c is None or hour.dew_c is None:
        return None
    up = sun.position(base.latitude, base.longitude, hour.at)[1] > 0
    surface = air.surface_c(
        hour.air_c,
        sun_up=up,
        lit=False,
        dark=False,
        cloud_pct=hour.cloud_pct,
        model=model,
    )
    return surface - hour.dew_c


def daylight(place: Place, span: Span) -> tuple[Span, ...]:
    """When the sun is up at a place, to five minutes."""
    unix = shade.grid(span, 5)
    return shade.mask_spans(
        sun.angles(place.latitude, place.longitude, unix)[1] > 0, span, 5
    )
