"""Rows as the values that the trade, the plugins and the planner work with."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import groupby

from django.db.models import QuerySet

from dispatch.actions import clock, one_moment, rates, visit_waits, wettings
from dispatch.records.models import (
    Boat,
    Equipment,
    Forecast,
    Place,
    Reading,
    Sheet,
    Stage,
    Veto,
)
from dispatch.trade import cure, product, shade, sky, waiting
from dispatch.trade import work as trade_work
from dispatch.trade.limits import Limits
from dispatch.trade.readings import HullReading
from dispatch.trade.spans import Span

# No forecast reaches farther.
_LONGEST = timedelta(days=21)
_SPRAYED_PANELS = {"port", "starboard", "transom", "rail"}


def site(place: Place, horizon: Span) -> sky.Site:
    """A place as the sky sees it, with its known wettings inside a span."""
    return sky.Site(
        lat=place.latitude,
        lon=place.longitude,
        zone=place.time_zone,
        wind_factor=place.wind_factor,
        day_offset_k=place.day_offset_k,
        night_offset_k=place.night_offset_k,
        obstacles=tuple(
            sky.Obstacle(
                az_from_deg=row["from_deg"],
                az_to_deg=row["to_deg"],
                elevation_deg=row["elevation_deg"],
            )
            for row in place.horizon
        ),
        known_wettings=wettings.spans(place, horizon),
    )


def sheet(row: Sheet | None) -> product.Sheet | None:
    """A product sheet as one value."""
    if row is None:
        return None
    names = [
        field
        for field in product.Sheet.__dataclass_fields__
        if field not in ("name", "kind", "cautions")
    ]
    return product.Sheet(
        name=row.name,
        kind=row.kind,
        cautions=(row.people,) if row.people else (),
        **{name: getattr(row, name) for name in names},
    )


def latest_forecast(place: Place, at: datetime) -> Forecast | None:
    """The newest forecast of a place issued by a moment; of two issues the one taken in last."""
    return next((row for row in _forecasts(place) if row.issued_at <= at), None)


def _forecasts(place: Place) -> tuple[Forecast, ...]:
    """A place's forecasts, the newest first; of one issue the one taken in last."""
    return one_moment.once(
        ("forecasts", place.pk),
        lambda: tuple(place.forecasts.order_by("-issued_at", "-taken_in_at", "-pk")),
    )


def sky_of(forecast: Forecast | None, horizon: Span) -> sky.Sky | None:
    """The hours of a forecast around a span, as the source gave them; None where there is no forecast."""
    if forecast is None:
        return None
    return _sky(forecast, tuple(_hours(forecast, horizon)))


def sky_so_far(place: Place, at: datetime, horizon: Span) -> sky.Sky | None:
    """The hours around a span by the forecasts issued by a moment; None where none says anything of it.

    Each hour is by the newest forecast, those gone by before that one begins by the one before it.
    """
    found: list[sky.SkyHour] = []
    until, newest = horizon.end, None
    for forecast in _forecasts(place):
        if not horizon.start - _LONGEST <= forecast.issued_at <= at:
            continue
        found = [*_hours(forecast, Span(horizon.start, until)), *found]
        newest = newest or forecast
        if found and found[0].at <= horizon.start:
            break
        until = found[0].at if found else until
    return _sky(newest, tuple(found)) if newest and found else None


def _sky(forecast: Forecast, hours: tuple[sky.SkyHour, ...]) -> sky.Sky:
    """Hours as a sky that is seen now, and as old as its forecast."""
    hand = None
    if forecast.hand_from and forecast.hand_until:
        hand = Span(forecast.hand_from, forecast.hand_until)
    return sky.Sky(
        hours=hours, issued_at=forecast.issued_at, seen_at=clock.now(), hand=hand
    )


def _hours(forecast: Forecast, horizon: Span) -> Iterator[sky.SkyHour]:
    """A forecast's hours that touch a span, in order."""
    since = horizon.start - timedelta(hours=1)
    yield from (hour for hour in _all_hours(forecast) if since <= hour.at < horizon.end)


def _all_hours(forecast: Forecast) -> tuple[sky.SkyHour, ...]:
    return one_moment.once(
        ("hours", forecast.pk),
        lambda: tuple(
            sky.SkyHour(**row)
            for row in forecast.hours.order_by("at").values(
                *sky.SkyHour.__dataclass_fields__
            )
        ),
    )


def work(stage: Stage, horizon: Span, limits: Limits) -> trade_work.Work:
    """A stage as the sky sees it, as long as it takes in the warmest hour of a span."""
    bare = _work(stage, horizon, limits)
    if not visit_waits.warmth_matters(stage):
        own = visit_waits.minutes(stage, cure.REFERENCE_C)
        return replace(bare, quickest_minutes=min(own.values()))
    warmest = waiting.warmest_c(bare, _sky_ahead(stage, horizon), horizon)
    coldest = waiting.coldest_c(bare, None, ())
    return replace(
        bare,
        quickest_minutes=min(visit_waits.minutes(stage, warmest).values()),
        tail_minutes=math.ceil(visit_waits.level(stage, coldest)),
    )


def planned_c(stage: Stage, spans: Sequence[Span]) -> float:
    """How warm her hull is reckoned to be in a week that may put a stage into any of some spans, by the forecasts."""
    return coldest_c(stage, spans, rates.limits().wait_enough_pct)


def coldest_c(stage: Stage, spans: Sequence[Span], enough_pct: float = 100.0) -> float:
    """The coldest her hull may be while a stage is done in one of some spans, by the forecasts."""
    if not visit_waits.warmth_matters(stage):
        return cure.REFERENCE_C
    if not spans:
        now = Span(clock.now(), clock.now() + timedelta(minutes=5))
        return waiting.coldest_c(_work(stage, now, rates.limits()), None, ())
    whole = Span(min(s.start for s in spans), max(s.end for s in spans))
    bare = _work(stage, whole, rates.limits())
    return waiting.coldest_c(bare, _sky_ahead(stage, whole), spans, enough_pct)


def planned_hot(stage: Stage, spans: Sequence[Span]) -> bool:
    """Whether rest in the heat is reckoned with in a week that may put a stage into any of some spans."""
    if not spans:
        return False
    whole = Span(min(s.start for s in spans), max(s.end for s in spans))
    limits, bare = rates.limits(), _work(stage, whole, rates.limits())
    return waiting.hot(
        bare,
        _sky_ahead(stage, whole),
        spans,
        rates.strain_limits().rest_air_c,
        limits.wait_enough_pct,
    )


def _sky_ahead(stage: Stage, span: Span) -> sky.Sky | None:
    return sky_so_far(stage.job.boat.place, clock.now(), span)


def _work(stage: Stage, horizon: Span, limits: Limits) -> trade_work.Work:
    """The same with its hands alone, and no time to level."""
    boat, place = stage.job.boat, stage.job.boat.place
    own_sheet = sheet(stage.sheet)
    hull = None
    if stage.heading_true_deg is not None:
        hull = shade.Hull(
            heading_true_deg=stage.heading_true_deg, flare_deg=limits.flare_deg
        )
    return trade_work.Work(
        family=stage.family,
        panels=tuple(panel for panel in stage.panels if panel in _SPRAYED_PANELS),
        sheet=own_sheet,
        quickest_minutes=min(stage.minutes.values()),
        cover=stage.cover,
        down_gust_ms=down_gust_ms(stage),
        hull=hull,
        dark=boat.dark,
        site=site(place, horizon),
        neighbours=tuple(
            trade_work.Neighbour(
                what=row["what"],
                bearing_deg=row["bearing_deg"],
                distance_m=row["distance_m"],
                sheeted=row.get("sheeted", False),
            )
            for row in place.neighbours
        ),
        gun="electric" if "little-gun" in stage.gear else "turbine",
        limits=limits,
        family_limits=rates.family(stage.family),
        surface_model=rates.surface_model(),
        readings=readings(boat, horizon, limits),
        overruled=tuple(
            trade_work.Overruled(
                code=row.code, span=Span(row.start, row.end), excess=row.excess
            )
            for row in stage.overrides.all()
            if row.start and row.end
        ),
    )


def down_gust_ms(stage: Stage) -> float | None:
    """The gust at which the roof over a stage must be down; None under no roof, or where nobody told it.

    Which of several roofs of its kind will stand over her is not known here: the one that must be down first counts.
    One whose gust nobody told cannot be counted beside others; where it stands alone, no gust is known at all.
    """
    if stage.cover != Stage.Cover.ROOF:
        return None
    told = one_moment.once("down-gusts", _down_gusts)
    kinds = {row["kind"] for row in stage.equipment} & told.keys()
    return min(
        (gust for kind in kinds or told for gust in told[kind] if gust), default=None
    )


def _down_gusts() -> dict[str, list[float | None]]:
    found: dict[str, list[float | None]] = {}
    rows = Equipment.objects.filter(active=True, roof=True)
    for kind, gust in rows.values_list("kind", "down_gust_ms"):
        found.setdefault(kind, []).append(gust)
    return found


def readings(boat: Boat, span: Span, limits: Limits) -> tuple[HullReading, ...]:
    """What was read on a boat that still counts somewhere in a span, in order; one moment is one reading."""
    since = span.start - timedelta(hours=limits.reading_hours)
    rows = (
        row
        for row in boat.readings.all()
        if since < row.read_at < span.end and row.kind != Reading.Kind.HEADING
    )
    ordered = sorted(rows, key=lambda row: (row.read_at, row.pk))
    return tuple(
        HullReading(at=at, **{row.kind: row.value for row in group})
        for at, group in groupby(ordered, lambda row: row.read_at)
    )


def veto(row: Veto) -> trade_work.Veto:
    """A stored veto as one value."""
    return trade_work.Veto(
        span=Span(row.start, row.end),
        edge=row.edge,
        code=row.code,
        sentence=row.sentence,
        numbers=row.numbers,
        strength=row.strength,
        excess=row.excess,
    )


def open_stages() -> QuerySet[Stage]:
    """Stages still to be done of jobs in the book, with what their facts need."""
    return (
        Stage.objects.filter(job__state__in=("agreed", "in-hand"))
        .exclude(state=Stage.State.DONE)
        .select_related("job__boat__place", "job__boat__customer", "job__kind", "sheet")
        .order_by("job__key", "position")
    )
