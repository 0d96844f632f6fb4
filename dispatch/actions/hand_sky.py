"""A sky entered by hand for some hours of a place, over the newest forecast, until a newer one comes."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from dispatch.actions import (
    access,
    board_words,
    clock,
    due,
    facts,
    history,
    rejudging,
    setting_units,
)
from dispatch.actions.errors import Refused
from dispatch.hooks.answers import RANGES
from dispatch.records.models import Account, Forecast, ForecastHour, Outfit, Place
from dispatch.trade import air
from dispatch.trade.spans import Span

SOURCE = "by hand"
LONGEST = timedelta(hours=24)
NAMES: Mapping[str, str] = {
    "wind_ms": "Wind",
    "gust_ms": "Gusts",
    "from_deg": "Wind from",
    "air_c": "Air in the shade",
    "dew_c": "Dew point",
    "cloud_pct": "Cloud",
    "rain_mm": "Rain",
    "rain_prob_pct": "Chance of rain",
}
_HOUR = timedelta(hours=1)


@dataclass(frozen=True, kw_only=True)
class Entered:
    """What stands by hand at a place: which hours, who entered it and when, and how old the rest is."""

    span: Span
    by: str
    at: datetime
    sentence: str


def unit(name: str) -> setting_units.Unit:
    """The unit a number of the sky is entered in."""
    return setting_units.unit(name, Outfit.objects.get().units)


@transaction.atomic
def enter(
    place: Place, span: Span, numbers: Mapping[str, float], *, by: Account
) -> Forecast:
    """Put numbers (SI, by the names of `NAMES`) over the whole hours of a span; the rest stays as forecast.

    What hangs on it is unknown until it is judged again. It stands until a forecast issued later comes in.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the hours or a number cannot be right, or no number was given.
    """
    access.owner(by)
    now = clock.now()
    _check_hours(span, now)
    _check_numbers(numbers)
    base = facts.latest_forecast(place, now)
    hours = _hours(base, span, numbers)
    Forecast.objects.filter(
        place=place, source=SOURCE, issued_at=base.issued_at if base else now
    ).delete()
    made = Forecast.objects.create(
        place=place,
        source=SOURCE,
        issued_at=base.issued_at if base else now,
        taken_in_at=now,
        hand_from=span.start,
        hand_until=span.end,
        by=by,
        old_told_at=base.old_told_at if base else None,
    )
    for hour in hours:
        hour.forecast = made
    ForecastHour.objects.bulk_create(hours)
    _judge_again(place, "The sky was entered by hand")
    _write(place, span, f"Entered the sky by hand: {said(numbers)}.", by)
    return made


@transaction.atomic
def take_back(place: Place, *, by: Account) -> None:
    """Let the forecast stand again where a sky was entered by hand.

    Raises:
        Stranger: the account is not the owner's.
        Refused: none stands.
    """
    access.owner(by)
    newest = facts.latest_forecast(place, clock.now())
    if newest is None or newest.hand_from is None or newest.hand_until is None:
        raise Refused(
            "No sky entered by hand stands here any more. Load the page again."
        )
    span = Span(newest.hand_from, newest.hand_until)
    newest.delete()
    _judge_again(place, "The sky entered by hand was taken back")
    _write(place, span, "Took back the sky entered by hand.", by)


def standing(place: Place) -> Entered | None:
    """What was entered by hand and stands; None where the newest forecast is a source's own."""
    newest = facts.latest_forecast(place, clock.now())
    return None if newest is None else of(newest)


def of(forecast: Forecast) -> Entered | None:
    """What of a forecast was entered by hand; None where nothing was."""
    if forecast.hand_from is None or forecast.hand_until is None:
        return None
    zone = ZoneInfo(forecast.place.time_zone)
    span = Span(forecast.hand_from, forecast.hand_until)
    person = forecast.by.person if forecast.by else None
    name = person.name if person else str(forecast.by or "somebody")
    at = board_words.dated(forecast.taken_in_at, zone)
    return Entered(
        span=span,
        by=name,
        at=forecast.taken_in_at,
        sentence=f"Entered by hand by {name}, {at}, for {board_words.between(span, zone)}",
    )


def said(numbers: Mapping[str, float]) -> str:
    """Numbers of a sky in words and the outfit's units."""
    return ", ".join(
        f"{NAMES[name].lower()} {unit(name).said(numbers[name])}"
        for name in NAMES
        if name in numbers
    )


def _check_hours(span: Span, now: datetime) -> None:
    if any(at.minute or at.second for at in (span.start, span.end)):
        raise Refused("A sky is entered for whole hours. Enter full hours.")
    if span.end <= now:
        raise Refused("Those hours are over. Enter hours that are still to come.")
    if span.length > LONGEST or span.start > now + LONGEST:
        raise Refused(
            "Nobody sees farther than a day. Enter at most 24 hours, beginning within a day."
        )


def _check_numbers(numbers: Mapping[str, float]) -> None:
    if not numbers:
        raise Refused("No number was entered. Enter at least one.")
    for name, value in numbers.items():
        low, high = RANGES[name]
        if not low <= value <= high:
            least, most = unit(name).inside(low, high)
            raise Refused(
                f"{NAMES[name]} cannot be {unit(name).said(value)}. Enter {least} to {most}."
            )
    _check_pair(numbers, "wind_ms", "gust_ms", "Gusts cannot be weaker than the wind.")
    _check_pair(numbers, "dew_c", "air_c", "The dew point cannot lie above the air.")


def _check_pair(
    numbers: Mapping[str, float], low: str, high: str, sentence: str
) -> None:
    if low in numbers and high in numbers and numbers[low] > numbers[high]:
        raise Refused(f"{sentence} Look at both again.")


def _hours(
    base: Forecast | None, span: Span, numbers: Mapping[str, float]
) -> list[ForecastHour]:
    """Every hour of the forecast beneath, those of the span with the numbers over it."""
    found = {row.at: row for row in base.hours.all()} if base else {}
    at = span.start
    while at < span.end:
        row = found.setdefault(at, ForecastHour(at=at))
        for name, value in numbers.items():
            setattr(row, name, value)
        _follow(row, numbers)
        at += _HOUR
    for row in found.values():
        row.pk = None
    return [found[at] for at in sorted(found)]


def _follow(row: ForecastHour, numbers: Mapping[str, float]) -> None:
    """What follows from what was entered: the humidity, and no dew point above the air nor gusts below the wind."""
    if not {"air_c", "dew_c"}.isdisjoint(numbers):
        row.rh_pct = None
        if row.air_c is not None and row.dew_c is not None:
            row.dew_c = min(row.dew_c, row.air_c)
            row.rh_pct = min(100.0, air.rh_pct(row.air_c, row.dew_c))
    if row.gust_ms is not None and row.wind_ms is not None:
        row.gust_ms = max(row.gust_ms, row.wind_ms)


def _judge_again(place: Place, why: str) -> None:
    rejudging.again(list(facts.open_stages().filter(job__boat__place=place)), why)
    due.put("reckon-film", place.key)


def _write(place: Place, span: Span, sentence: str, by: Account) -> None:
    hours = board_words.between(span, ZoneInfo(place.time_zone))
    history.write(
        "enter-sky", f"place {place.key}", f"{place.name}, {hours}: {sentence}", by=by
    )
