"""Forecasts that grow old because nothing newer comes: judge by their age, and tell of it once."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import board_words, clock, due, facts, history, rates, weather
from dispatch.records.models import Forecast, Outfit, Place

VERB = "forecast-old"
_HOUR = timedelta(hours=1)
_NAMED = 3  # so many places are named; of more the first two, and the rest are counted


def look() -> int:
    """Have what hangs on an old forecast judged again once an hour of its age; return how many places have one.

    The first time one is too old for two-part the history tells it, all places in one line; a newer
    forecast that grows old in its turn is told again.
    """
    now, limits = clock.now(), rates.limits()
    aged = [
        forecast
        for place in weather.places()
        if (forecast := facts.latest_forecast(place, now))
        and age_hours(forecast, now) > limits.fresh_hours
    ]
    for forecast in aged:
        _again(forecast, now)
    _tell(
        [one for one in aged if age_hours(one, now) > limits.ask_hours],
        now,
    )
    return len(aged)


def age_hours(forecast: Forecast, now: datetime) -> float:
    """How many hours ago a forecast was issued."""
    return (now - forecast.issued_at) / _HOUR


def too_old(place: Place, now: datetime) -> bool:
    """Whether a place has no forecast that is young enough to tell people of."""
    newest = facts.latest_forecast(place, now)
    return newest is None or age_hours(newest, now) > rates.limits().ask_hours


def _again(forecast: Forecast, now: datetime) -> None:
    """Judge film's stages again where they were last judged before the age's last full hour."""
    mark = forecast.issued_at + int(age_hours(forecast, now)) * _HOUR
    stages = facts.open_stages().filter(
        job__boat__place=forecast.place, sheet__isnull=False, judged__at__lt=mark
    )
    found = list(stages.distinct())
    for stage in found:
        due.put("judge-stage", str(stage.pk))
    if found:
        due.put("age-film", forecast.place.key)


@transaction.atomic
def _tell(old: Sequence[Forecast], now: datetime) -> None:
    """One line for all places whose newest forecast was not told of yet."""
    news = [
        one
        for one in old
        if Forecast.objects.filter(pk=one.pk, old_told_at=None).update(old_told_at=now)
    ]
    if not news:
        return
    history.write(VERB, "forecasts", " ".join(_sentences(news)), actor="sky")


def _sentences(news: Sequence[Forecast]) -> Iterator[str]:
    outfit = Outfit.objects.get()
    first = min(one.issued_at for one in news)
    since = board_words.dated(first, ZoneInfo(outfit.time_zone))
    names = [one.place.name for one in news]
    if len(names) > _NAMED:
        names[_NAMED - 1 :] = [f"{len(names) - _NAMED + 1} other places"]
    places = board_words.names(names)
    yield f"No newer forecast since {since} for {places}."
    yield (
        "Until one comes, margins before rain and cure times are wider, two-part is not sprayed without asking you, "
        "and customers are not told what the weather allows."
    )
    yield "Ask the sources again under Plugins, or enter the sky by hand on a place's page."
