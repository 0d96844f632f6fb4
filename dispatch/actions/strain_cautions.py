"""Cautions of heat and cold on a day's card: by the newest forecast, hour by hour, at each place."""

from collections.abc import Iterator, Sequence

from dispatch.actions import clock, facts, rates
from dispatch.records.models import Place, Visit
from dispatch.trade import air, sky, strain
from dispatch.trade.sky import SkyHour
from dispatch.trade.spans import Span
from dispatch.trade.strain import Cold, Heat, Strain
from dispatch.trade.units import df_to_dk
from dispatch.trade.words import Words

# The US National Weather Service's note beside its chart.
_FULL_SUN_K = df_to_dk(15)
_DRINK = {"us": "a quart", "metric": "a litre"}
_RULES = {
    Place.HeatRule.STRICTER: "air and heat index, the stricter",
    Place.HeatRule.AIR: "the air's temperature, as the place is set",
    Place.HeatRule.INDEX: "the heat index, as the place is set",
    Place.HeatRule.WBGT: "WBGT, as the place is set",
}


def of(visits: Sequence[Visit], words: Words) -> Iterator[str]:
    """What heat and cold ask of people at each place in the hours to come; said too where nothing is forecast."""
    limits = rates.strain_limits()
    for place in dict.fromkeys(visit.stage.job.boat.place for visit in visits):
        mine = [visit for visit in visits if visit.stage.job.boat.place == place]
        start = max(clock.now(), min(visit.start for visit in mine))
        end = max(visit.end for visit in mine)
        if start < end:
            span = Span(start, end)
            hours = _hours(place, span)
            yield from _unknown(place, hours, span, limits, words)
            yield from _at(place, hours, limits, words)


def _hours(place: Place, span: Span) -> tuple[SkyHour, ...]:
    """The place's own hours that touch a span, those without an air temperature left out."""
    given = facts.sky_of(facts.latest_forecast(place, clock.now()), span)
    if given is None:
        return ()
    hours = sky.local(given, facts.site(place, span)).hours
    return tuple(
        h for h in hours if h.air_c is not None and h.at + sky.HOUR > span.start
    )


def _unknown(
    place: Place, hours: Sequence[SkyHour], span: Span, limits: Strain, words: Words
) -> Iterator[str]:
    """Said where the forecast leaves any of the hours out; they may be the hottest."""
    first = span.start.replace(minute=0, second=0, microsecond=0)
    if len(hours) >= (span.end - first) / sky.HOUR:
        return
    much = "not known for some hours" if hours else "not known"
    yield (
        f"Heat and cold at {place.name}: {much}. From {words.degrees(limits.rest_air_c)} rest 10 min "
        "in every hour, sooner where it is humid; water and shade."
    )


def _at(
    place: Place, hours: Sequence[SkyHour], limits: Strain, words: Words
) -> Iterator[str]:
    heats = [
        strain.heat(h.air_c, _humidity(h), limits, place.heat_rule)
        for h in hours
        if h.air_c is not None
    ]
    colds = [
        strain.cold(h.air_c, h.wind_ms, limits) for h in hours if h.air_c is not None
    ]
    hot, chilly = [h for h in heats if h], [c for c in colds if c]
    if hot:
        yield _hot(place, max(hot, key=_strain), words)
    if chilly:
        yield _chilly(place, min(chilly, key=_felt), words)


def _humidity(hour: SkyHour) -> float | None:
    """By the dew point where it is told, for that holds while a place's own offset shifts the air."""
    if hour.dew_c is not None and hour.air_c is not None:
        return air.rh_pct(hour.air_c, hour.dew_c)
    return hour.rh_pct


def _strain(heat: Heat) -> tuple[float, bool, float]:
    felt_c = heat.air_c if heat.index_c is None else heat.index_c
    return heat.rest_minutes / heat.every_minutes, heat.high, felt_c


def _felt(cold: Cold) -> float:
    return cold.air_c if cold.chill_c is None else cold.chill_c


def _hot(place: Place, heat: Heat, words: Words) -> str:
    if heat.index_c is None:
        feels = "humidity not known, so it may feel far hotter"
    else:
        feels = (
            f"feels like {words.degrees(heat.index_c)} in shade, "
            f"up to {words.difference(_FULL_SUN_K)} more in full sun"
        )
    if heat.wbgt_c is not None and heat.wbgt_shade_c is not None:
        feels = (
            f"{feels}; WBGT about {words.degrees(heat.wbgt_c)} in moderate sun, {words.degrees(heat.wbgt_shade_c)} "
            "in shade, an estimate and no measurement: full sun is hotter"
        )
    every = "hour" if heat.every_minutes == 60 else f"{heat.every_minutes // 60} h"
    rest = (
        f" Rest {heat.rest_minutes} min in every {every}." if heat.rest_minutes else ""
    )
    watch = (
        " Watch one another: dizzy, sick or confused means stop, cool down, call for help."
        if heat.high
        else ""
    )
    return (
        f"Heat at {place.name}: air {words.degrees(heat.air_c)}, {feels}. "
        f"Water, {_DRINK[words.system]} an hour each, and shade.{rest}{watch} By {_RULES[Place.HeatRule(place.heat_rule)]}."
    )


def _chilly(place: Place, cold: Cold, words: Words) -> str:
    feels = (
        "wind not known, so it may feel far colder"
        if cold.chill_c is None
        else f"feels like {words.degrees(cold.chill_c)} in the wind"
    )
    return (
        f"Cold at {place.name}: air {words.degrees(cold.air_c)}, {feels}. "
        "Dry gloves and layers; warm up in between, wet hands first."
    )
