"""Take in forecasts, and store when each stage may not be done."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from time import monotonic
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Q, QuerySet

from dispatch.actions import (
    asked_sky,
    clock,
    due,
    facts,
    history,
    last_answers,
    one_moment,
    plugins,
    rates,
    second_sky,
    turns,
    visit_sky,
)
from dispatch.actions.asked_sky import Asked, Came, Failed
from dispatch.actions.errors import Refused
from dispatch.hooks.guard import Outcome
from dispatch.hooks.values import ForecastAnswer, ForecastAsk, VetoAsk
from dispatch.records.models import (
    Forecast,
    ForecastHour,
    Judged,
    Outfit,
    Place,
    PluginState,
    Stage,
    Veto,
)
from dispatch.trade import work
from dispatch.trade.spans import Span

_AHEAD = timedelta(days=9)
# What is not asked by then is left as work of its own, for other workers to share.
PATIENCE_S = 60.0
NO_SOURCE = "No forecast source is enabled, so nothing was asked. Choose one: turn its plugin on."
# How the history names it when all sources were asked: all answered, or some failed.
HEARD = ("forecasts-came", "forecasts-failed")


def horizon() -> Span:
    """The span that forecasts are read and stages are judged over."""
    now = clock.now()
    return Span(now, now + _AHEAD)


def places() -> QuerySet[Place]:
    """Places whose sky matters: where boats lie, and where crews start."""
    used = Q(boats__isnull=False) | Q(vans__isnull=False) | Q(is_base=True)
    return Place.objects.filter(used).distinct().order_by("key")


def take_in(place: Place) -> Forecast:
    """Read a place's forecast from every enabled source, and have its stages judged and its film reckoned by all that came at once.

    Return what the first that answered told.

    Raises:
        Refused: no source is enabled, or none could be read; what was stored before stays.
    """
    heard = list(_heard(place))
    stored = _stored(place, heard)
    if stored:
        return stored[0][1]
    faults = (outcome.fault for _, outcome in heard)
    raise Refused(" ".join(faults) or NO_SOURCE)


def ask_later() -> int:
    """Have the worker take in every place's forecast; return of how many. Nothing while no source is enabled."""
    if not any(True for _ in plugins.enabled("forecast")):
        return 0
    found = list(places())
    for place in found:
        due.put("take-in-forecast", place.key)
    return len(found)


def ask_all() -> Asked:
    """Ask every enabled source for every place; store what comes, and tell it and what failed, source by source.

    For a worker: a source may take its time. Holds no transaction while one works. What is not asked
    within `PATIENCE_S` becomes work of its own, a place at a time.

    Raises:
        Refused: no source is enabled.
    """
    outfit = Outfit.objects.first()
    if outfit is None or not any(True for _ in plugins.enabled("forecast")):
        raise Refused(NO_SOURCE)
    answers: list[Came | Failed] = []
    later: list[str] = []
    until = monotonic() + PATIENCE_S
    for place in places():
        if monotonic() < until:
            answers += _answers(place)
        else:
            due.put("take-in-forecast", place.key)
            later.append(place.name)
    asked = Asked(
        came=tuple(one for one in answers if isinstance(one, Came)),
        failed=tuple(one for one in answers if isinstance(one, Failed)),
        later=tuple(later),
    )
    said = " ".join(asked_sky.sentences(asked, ZoneInfo(outfit.time_zone)))
    verb = HEARD[1] if asked.failed else HEARD[0]
    history.write(verb, "forecasts", f"All sources were asked. {said}", actor="sky")
    return asked


def _heard(place: Place) -> Iterator[tuple[PluginState, Outcome]]:
    """What each enabled source answers of a place, or why not. Holds no transaction while one works."""
    for state in plugins.enabled("forecast"):
        # As it is now: one that failed a moment ago may be resting.
        state.refresh_from_db()
        yield state, plugins.ask(state, "forecast", _ask(place, state.name))


def _answers(place: Place) -> Iterator[Came | Failed]:
    """The same, stored and told."""
    heard = list(_heard(place))
    stored = {
        state.name: (forecast, new) for state, forecast, new in _stored(place, heard)
    }
    for state, outcome in heard:
        if outcome.fault:
            yield Failed(place=place.name, source=state.name, why=outcome.fault)
            continue
        forecast, new = stored[state.name]
        yield Came(
            place=place.name,
            source=state.name,
            issued_at=forecast.issued_at,
            hours=len(outcome.answer.hours) or forecast.hours.count(),
            new=new,
        )


@transaction.atomic
def _stored(
    place: Place, heard: Iterable[tuple[PluginState, Outcome]]
) -> list[tuple[PluginState, Forecast, bool]]:
    """Store every answer in one go: what hangs on the place is then judged once by all of them, not once for each."""
    return [
        (state, *_store(place, state.name, outcome.answer))
        for state, outcome in heard
        if not outcome.fault
    ]


def _newest(place: Place, source: str) -> Forecast | None:
    return place.forecasts.filter(source=source).order_by("-issued_at").first()


def _ask(place: Place, source: str) -> ForecastAsk:
    known = _newest(place, source)
    return ForecastAsk(
        place_key=place.key,
        latitude=place.latitude,
        longitude=place.longitude,
        span=horizon(),
        kept=known.kept if known else "",
    )


def _store(place: Place, source: str, answer: ForecastAnswer) -> tuple[Forecast, bool]:
    """The row of an issue, and whether it is new; one that is in store already stays as it is."""
    known = _newest(place, source) if answer.unchanged else None
    if known is not None:
        return known, False
    forecast, new = Forecast.objects.get_or_create(
        place=place,
        source=source,
        issued_at=answer.issued_at,
        defaults={"taken_in_at": clock.now(), "kept": answer.keep},
    )
    if new:
        ForecastHour.objects.bulk_create(
            ForecastHour(forecast=forecast, **vars(hour)) for hour in answer.hours
        )
        history.write(
            "take-in-forecast",
            f"place {place.key}",
            f"Took in {len(answer.hours)} hours of forecast for {place.name}.",
            actor="sky",
        )
        for stage in facts.open_stages().filter(job__boat__place=place):
            due.put("judge-stage", str(stage.pk))
        for job in turns.turnable(place):
            turns.aim(job)
        due.put("reckon-film", place.key)
    return forecast, new


def judge(stage: Stage) -> None:
    """Ask every veto plugin about a stage, store its answer, and mark the stage's posted visit by it.

    Where two sources tell the sky, the worse counts. A plugin that fails leaves the stage unknown; while it rests
    its last answer counts by its age. It is asked again by itself.
    """
    with one_moment.held():
        forecast, seconds, ask = _asked(stage)
    for state in plugins.enabled("vetoes"):
        found, fault = _against(state, ask, seconds)
        if fault:
            last_answers.failed(stage, state, fault)
        else:
            _keep(stage, state.name, found, forecast, ask.horizon)
    visit_sky.mark(stage)


def _asked(stage: Stage) -> tuple[Forecast | None, list[Forecast], VetoAsk]:
    """The forecast a stage is judged by, those of the other sources, and the question put to each plugin."""
    span, place = horizon(), stage.job.boat.place
    forecast = facts.latest_forecast(place, clock.now())
    ask = VetoAsk(
        stage_key=str(stage),
        work=facts.work(stage, span, rates.limits()),
        sky=facts.sky_of(forecast, span),
        horizon=span,
        units=one_moment.outfit().units,
        place_key=place.key,
    )
    return forecast, list(second_sky.others(place, forecast, clock.now())), ask


def _against(
    state: PluginState, ask: VetoAsk, seconds: Sequence[Forecast]
) -> tuple[tuple[work.Veto, ...], str]:
    """What a plugin finds by the newest sky and by each other source's, or why it found nothing."""
    outcome = plugins.ask(state, "vetoes", ask)
    if outcome.fault:
        return (), outcome.fault
    found: tuple[work.Veto, ...] = outcome.answer.vetoes
    for forecast in seconds:
        other = replace(ask, sky=facts.sky_of(forecast, ask.horizon))
        outcome = plugins.ask(state, "vetoes", other)
        if outcome.fault:
            return (), outcome.fault
        found = second_sky.worse(found, outcome.answer.vetoes, forecast.source)
    return found, ""


@transaction.atomic
def _keep(
    stage: Stage,
    plugin: str,
    found: tuple[work.Veto, ...],
    forecast: Forecast | None,
    span: Span,
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
            excess=veto.excess,
        )
        for veto in found
    )
    now = clock.now()
    Judged.objects.update_or_create(
        stage=stage,
        plugin=plugin,
        defaults={
            "forecast": forecast,
            "since": span.start,
            "until": span.end,
            "at": now,
            "answered_at": now,
            "fault": "",
        },
    )
