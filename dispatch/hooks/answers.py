"""What is wrong with a plugin's answer, in a sentence; an answer that cannot be right is no answer."""

import math
import re
from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from datetime import timedelta
from itertools import groupby, pairwise

from dispatch.hooks import answer_parts
from dispatch.hooks.values import (
    Answered,
    Delivery,
    DrivesAnswer,
    DrivesAsk,
    ForecastAnswer,
    ForecastAsk,
    HearAnswer,
    HearAsk,
    Leg,
    PriceAnswer,
    PriceAsk,
    PriceLine,
    Published,
    Receipt,
    VetoAnswer,
    VetoAsk,
)
from dispatch.trade.sky import SkyHour
from dispatch.trade.spans import Span, intersect
from dispatch.trade.work import Veto

MOST_KEPT = 2000
# A rule of thumb: no day and night and half a day more go by without a breath or a degree.
FLAT_HOURS = 30
# A rule of thumb too: a front takes ten or fifteen kelvin in an hour, a forecast smooths even that.
MOST_JUMP_K = 20.0
_LONGEST_SENTENCE = 400
_HOUR = timedelta(hours=1)
_LONGEST_TEXT = 1_000_000
_LONGEST_NUMBER, _LONGEST_SENDER, _LONGEST_REPLY = 80, 120, 4000
_MEDIA = ("text/calendar", "text/csv")
_CODE = re.compile(r"[A-Za-z0-9_-]{1,30}")
_MOST_NUMBERS = 50
_FILE = re.compile(r"[A-Za-z0-9][A-Za-z0-9.-]{0,60}")
_LONGEST_DRIVE_MIN, _LONGEST_DRIVE_M, _FASTEST_M_A_MIN = 2880, 5_000_000, 3334
# As much as the tables hold of cents.
_MOST_CENTS, _LONGEST_LINE = 100_000_000, 120
_EDGES, _STRENGTHS = ("during", "ending"), ("wall", "owner", "lead")
# field of SkyHour -> what weather on earth can be
RANGES: Mapping[str, tuple[float, float]] = {
    "air_c": (-65, 60),
    "dew_c": (-75, 45),
    "rh_pct": (0, 100),
    "wind_ms": (0, 110),
    "gust_ms": (0, 130),
    "from_deg": (0, 360),
    "cloud_pct": (0, 100),
    "rain_mm": (0, 500),
    "rain_prob_pct": (0, 100),
    "fog": (0, 1),
}


def wrong(hook: str, ask: object, answer: object) -> str:
    """Return what makes an answer unusable, or nothing where it can be used."""
    wanted, check = _CHECKS[hook]
    if not isinstance(answer, wanted):
        return f"{type(answer).__name__} where {wanted.__name__} is wanted."
    return check(ask, answer)


def _forecast(ask: ForecastAsk, answer: ForecastAnswer) -> str:
    return (
        answer_parts.entries(answer.hours, SkyHour)
        or answer_parts.moment("issued_at", answer.issued_at)
        or answer_parts.may_be_text("keep", answer.keep, MOST_KEPT)
        or (_unchanged(ask, answer) if answer.unchanged else _hours(ask, answer))
    )


def _unchanged(ask: ForecastAsk, answer: ForecastAnswer) -> str:
    if not ask.kept:
        return "it says unchanged where nothing was kept."
    return "it says unchanged and has hours." if answer.hours else ""


def _hours(ask: ForecastAsk, answer: ForecastAnswer) -> str:
    return (
        ("" if answer.hours else "it has no hours.")
        or answer_parts.first(_sky_hour(ask, hour) for hour in answer.hours)
        or answer_parts.first(
            f"{after.at:%d %b %H:%M} UTC does not come an hour or more after the hour before it."
            for before, after in pairwise(answer.hours)
            if after.at - before.at < _HOUR
        )
        or _flat(answer.hours)
        or answer_parts.first(_jump(*pair) for pair in pairwise(answer.hours))
    )


def _jump(before: SkyHour, after: SkyHour) -> str:
    """Air or dew point that leaps within an hour as weather hardly ever does, and forecasts never."""
    if after.at - before.at > _HOUR:
        return ""
    for name in ("air_c", "dew_c"):
        was, becomes = getattr(before, name), getattr(after, name)
        if None not in (was, becomes) and abs(becomes - was) > MOST_JUMP_K:
            return f"{name} jumps from {was:g} to {becomes:g} at {after.at:%d %b %H:%M} UTC; it looks broken."
    return ""


def _flat(hours: Iterable[SkyHour]) -> str:
    """What stands still longer than weather does."""
    return answer_parts.first(
        _still(what, tuple(run))
        for what, key in _STILL
        for value, run in groupby(hours, key)
        if value is not None
    )


def _still(what: str, held: Sequence[SkyHour]) -> str:
    if len(held) < FLAT_HOURS:
        return ""
    return f"{what} for {len(held)} hours from {held[0].at:%d %b %H:%M} UTC; it looks stuck."


def _calm(hour: SkyHour) -> object:
    return True if hour.wind_ms == 0 else None


def _air_and_wind(hour: SkyHour) -> object:
    both = (hour.air_c, hour.wind_ms)
    return None if None in both else both


_STILL: tuple[tuple[str, Callable[[SkyHour], object]], ...] = (
    ("wind_ms is 0", _calm),
    ("air_c and wind_ms do not move", _air_and_wind),
)


def _sky_hour(ask: ForecastAsk, hour: SkyHour) -> str:
    if hour.at + _HOUR < ask.span.start or hour.at > ask.span.end:
        return f"{hour.at:%d %b %Y %H:%M} UTC was not asked for."
    return answer_parts.first(
        answer_parts.number(name, getattr(hour, name), *bounds)
        for name, bounds in RANGES.items()
    )


def _vetoes(ask: VetoAsk, answer: VetoAnswer) -> str:
    return answer_parts.entries(answer.vetoes, Veto) or answer_parts.first(
        _veto(ask, veto) for veto in answer.vetoes
    )


def _veto(ask: VetoAsk, veto: Veto) -> str:
    span: object = veto.span
    if not isinstance(span, Span) or not intersect((span,), (ask.horizon,)):
        return f"a veto ({veto.code}) outside the span asked for."
    if veto.edge not in _EDGES or veto.strength not in _STRENGTHS:
        return f"a veto's edge is one of {', '.join(_EDGES)} and its strength one of {', '.join(_STRENGTHS)}."
    code: object = veto.code
    if not isinstance(code, str) or not _CODE.fullmatch(code):
        return "a veto's code is letters, digits, - and _, 30 at most."
    return answer_parts.text(
        f"{code}: its sentence", veto.sentence, _LONGEST_SENTENCE
    ) or (_numbers(veto))


def _numbers(veto: Veto) -> str:
    numbers = {**veto.numbers, "excess": veto.excess}
    if len(numbers) > _MOST_NUMBERS or not all(isinstance(n, str) for n in numbers):
        return f"{veto.code}: its numbers have names, and are {_MOST_NUMBERS} at most."
    return answer_parts.first(
        answer_parts.number(f"{veto.code}: {name}", value, -math.inf, math.inf)
        for name, value in numbers.items()
    )


def _drives(ask: DrivesAsk, answer: DrivesAnswer) -> str:
    asked = {(a.key, b.key) for a in ask.origins for b in ask.destinations}
    return (
        answer_parts.entries(answer.legs, Leg)
        or answer_parts.first(_leg(leg, asked) for leg in answer.legs)
        or _twice(answer.legs)
    )


def _twice(legs: Sequence[Leg]) -> str:
    pairs = {(leg.origin, leg.destination) for leg in legs}
    return "" if len(pairs) == len(legs) else "it tells a drive twice."


def _leg(leg: Leg, asked: Container[tuple[str, str]]) -> str:
    """What is wrong with one drive; nobody drives at more than 200 km/h from yard to yard."""
    name = f"{leg.origin} to {leg.destination}"
    if (leg.origin, leg.destination) not in asked:
        return f"{name} was not asked for."
    return (
        answer_parts.number(f"{name}: minutes", leg.minutes, 0, _LONGEST_DRIVE_MIN)
        or answer_parts.number(f"{name}: metres", leg.metres, 0, _LONGEST_DRIVE_M)
        or _whole(name, leg)
        or (
            f"{name}: {leg.metres / 1000:.0f} km in {leg.minutes} min cannot be driven."
            if leg.metres > (leg.minutes + 1) * _FASTEST_M_A_MIN
            else ""
        )
    )


def _whole(name: str, leg: Leg) -> str:
    numbers: tuple[object, ...] = (leg.minutes, leg.metres)
    whole = all(isinstance(number, int) for number in numbers)
    return "" if whole else f"{name}: whole minutes and metres are wanted."


def _price(ask: PriceAsk, answer: PriceAnswer) -> str:  # noqa: ARG001 - any job may have any price
    return (
        answer_parts.entries(answer.lines, PriceLine)
        or answer_parts.first(_price_line(line) for line in answer.lines)
        or _sum(answer)
    )


def _price_line(line: PriceLine) -> str:
    cents: object = line.cents
    return (
        answer_parts.text("a line's words", line.words, _LONGEST_LINE)
        or answer_parts.number(f"{line.words}: cents", cents, -_MOST_CENTS, _MOST_CENTS)
        or ("" if isinstance(cents, int) else f"{line.words}: whole cents are wanted.")
    )


def _sum(answer: PriceAnswer) -> str:
    together = sum(line.cents for line in answer.lines)
    if 0 <= together <= _MOST_CENTS:
        return ""
    return f"its lines are {together / 100:,.2f} together; 0 to {_MOST_CENTS / 100:,.0f} can be."


def _receipt(ask: object, answer: Receipt) -> str:  # noqa: ARG001 - a receipt checks itself when it is made
    return answer_parts.may_be_text(
        "what it said", answer.said, _LONGEST_REPLY
    ) or answer_parts.may_be_text("its number", answer.number, _LONGEST_NUMBER)


def _heard(ask: HearAsk, answer: HearAnswer) -> str:  # noqa: ARG001 - any post may be read
    return (
        answer_parts.entries(answer.deliveries, Delivery)
        or answer_parts.entries(answer.answers, Answered)
        or answer_parts.first(
            answer_parts.text("number", one.number, _LONGEST_NUMBER)
            for one in answer.deliveries
        )
        or answer_parts.first(
            answer_parts.text("sender", one.sender, _LONGEST_SENDER)
            or answer_parts.text("text", one.text, _LONGEST_REPLY)
            or answer_parts.may_be_text("number", one.number, _LONGEST_NUMBER)
            for one in answer.answers
        )
    )


def _published(ask: object, answer: Published) -> str:  # noqa: ARG001 - any visits may be written
    kind: object = answer.media_type
    name: object = answer.filename
    if kind not in _MEDIA:
        return f"its media type is {kind!r}; {' or '.join(_MEDIA)} is wanted."
    if not isinstance(name, str) or not _FILE.fullmatch(name):
        return (
            f"its file name is {name!r}; letters, digits, dots and dashes are wanted."
        )
    return answer_parts.text("its text", answer.text, _LONGEST_TEXT)


_CHECKS: Mapping[str, tuple[type, Callable[..., str]]] = {
    "forecast": (ForecastAnswer, _forecast),
    "vetoes": (VetoAnswer, _vetoes),
    "drives": (DrivesAnswer, _drives),
    "price": (PriceAnswer, _price),
    "send": (Receipt, _receipt),
    "hear": (HearAnswer, _heard),
    "publish": (Published, _published),
}
