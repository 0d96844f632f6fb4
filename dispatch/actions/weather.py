"""Take in forecasts, and store when each stage may not be done."""

from datetime import timedelta

from django.db import transaction

from dispatch.actions import clock, due, facts, history, plugins, rates, visit_sky
from dispatch.actions.errors import Refused
from dispatch.hooks.values import ForecastAnswer, ForecastAsk, VetoAsk
from dispatch.records.models import (
    Forecast,
    ForecastHour,
    Judged,
    Outfit,
    Place,
    Stage,
    Veto,
)
from dispatch.trade import work
from dispatch.trade.spans import Span

_AHEAD = timedelta(days=9)


def horizon() -> Span:
    """The span that forecasts are read and stages are judged over."""
    return Span(clock.now(), clock.now() + _AHEAD)


def take_in(place: Place) -> Forecast:
    """Read a place's forecast from the first enabled source that answers, have its stages judged and its film reckoned again.

    Raises:
        Refused: no source is enabled, or none could be read; what was stored before stays.
    """
    ask = ForecastAsk(
        place_key=place.key,
        latitude=place.latitude,
        longitude=place.longitude,
        span=horizon(),
    )
    faults = []
    for state in plugins.enabled("forecast"):
        outcome = plugins.ask(state, "forecast", ask)
        if not outcome.fault:
            return _store(place, state.name, outcome.answer)
        faults.append(outcome.fault)
    raise Refused(
        " ".join(faults) or "No forecast source is enabled. Enable one under plugins."
    )


@transaction.atomic
def _store(place: Place, source: str, answer: ForecastAnswer) -> Forecast:
    forecast, new = Forecast.objects.get_or_create(
        place=place,
        source=source,
        issued_at=answer.issued_at,
        defaults={"taken_in_at": clock.now()},
    )
    if new:
        ForecastHour.objects.bulk_create(
            ForecastHour(forecast=forecast, **vars(hour)) for hour in answer.hours
        )
        history.write(
            "take-in-forecast",
            f"place {place.key}",
            f"Took in {len(answer.hours)} hours for {place.name}.",
            actor="sky",
        )
        for stage in facts.open_stages().filter(job__boat__place=place):
            due.put("judge-stage", str(stage.pk))
        due.put("reckon-film", place.key)
    return forecast


def judge(stage: Stage) -> None:
    """Ask every veto plugin about a stage, store its answer, and mark the stage's posted visit by it.

    A plugin that fails leaves the stage unknown.
    """
    span = horizon()
    forecast = facts.latest_forecast(stage.job.boat.place, clock.now())
    ask = VetoAsk(
        stage_key=str(stage),
        work=facts.work(stage, span, rates.limits()),
        sky=facts.sky_of(forecast, span),
        horizon=span,
        units=Outfit.objects.values_list("units", flat=True).get(),
    )
    for state in plugins.enabled("vetoes"):
        outcome = plugins.ask(state, "vetoes", ask)
        found = () if outcome.fault else outcome.answer.vetoes
        _keep(stage, state.name, found, forecast, span, outcome.fault)
    visit_sky.mark(stage)


@transaction.atomic
def _keep(
    stage: Stage,
    plugin: str,
    found: tuple[work.Veto, ...],
    forecast: Forecast | None,
    span: Span,
    fault: str,
) -> None:
    Veto.objects.filter(stage=stage, plugin=plugin).delete()
    Veto.objects.bulk_create(
        Veto(
            stage=stage,
            plugin=plugin,
            edge=veto.edge,
            start=veto.span.start,
            end=veto.span.end,
            code=veto.code,
            sentence=veto.sentence,
            numbers=dict(veto.numbers),
            strength=veto.strength,
        )
        for veto in found
    )
    Judged.objects.update_or_create(
        stage=stage,
        plugin=plugin,
        defaults={
            "forecast": forecast,
            "since": span.start,
            "until": span.end,
            "at": clock.now(),
            "fault": fault,
        },
    )
