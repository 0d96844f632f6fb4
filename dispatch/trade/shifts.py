"""What a finished plan asks of people: hours in a hood, rest between days, breaks, who stands near isocyanate.

Numbers are common practice or assumptions, never advice: the law and the product's sheet may ask for more.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from dispatch.trade.spans import Span, intersect
from dispatch.trade.units import ft_to_m
from dispatch.trade.words import Words


@dataclass(frozen=True, kw_only=True)
class Breaks:
    """How long a break lasts that counts, and after how many minutes out it has to begin."""

    minutes: float = 30.0
    after_minutes: float = 360.0


@dataclass(frozen=True, kw_only=True)
class ShiftLimits:
    """Minutes: in a hood a day, off between two days, on site a day; from two-part to re-entry.

    Hood, gap, site and how far bystanders keep off (metres) are assumptions; the break and the half hour to re-entry are common practice.
    """

    hood_minutes: float = 270.0
    gap_minutes: float = 600.0
    site_minutes: float = 600.0
    reentry_minutes: float = 30.0
    bystander_m: float = ft_to_m(25)
    breaks: Breaks = field(default_factory=Breaks)


@dataclass(frozen=True, kw_only=True)
class Stay:
    """A team at a boat for a while; ``isocyanate`` while two-part is laid, ``sprays`` and ``solvent`` as they say."""

    boat: str
    place: str
    span: Span
    team: tuple[str, ...]
    isocyanate: bool = False
    sprays: bool = False
    solvent: bool = False


@dataclass(frozen=True, kw_only=True)
class Day:
    """One team's day out: who, from leaving the base to being back, the break, where they are in between.

    One that ``stands`` is posted already, in another week: only the rest before or after it is judged.
    """

    on: date
    zone: ZoneInfo
    team: tuple[str, ...]
    out: Span
    rest: Span | None
    stays: tuple[Stay, ...]
    stands: bool = False


@dataclass(frozen=True, kw_only=True)
class Hand:
    """What is known of a person: how old on the last day (None: nobody entered it), the last day of the fit test."""

    name: str
    years: int | None = None
    fit_until: date | None = None
    has_hood: bool = False


@dataclass(frozen=True, kw_only=True)
class Objection:
    """A rule of the house that a plan breaks: who or what, the sentence with its numbers, who may overrule it."""

    code: str
    subject: str
    sentence: str
    strength: str


# Who may overrule each: nobody what is about age, the hood and the rest between days.
STRENGTHS = {
    "minor": "wall",
    "fit-test": "wall",
    "hood-hours": "wall",
    "start-gap": "wall",
    "bystander": "wall",
    "near-isocyanate": "owner",
    "break": "owner",
    "site-hours": "owner",
    "no-half-day": "owner",
}


def objections(
    days: Sequence[Day], hands: Iterable[Hand], limits: ShiftLimits, words: Words
) -> tuple[Objection, ...]:
    """Every rule of the house that finished days break, the walls first."""
    known = {hand.name: hand for hand in hands}
    found = [
        *_people(days, known),
        *_hoods(days, limits),
        *_gaps(days, limits),
        *_bystanders(days, limits, words),
        *_breaks(days, limits),
        *_sites(days, limits),
    ]
    return tuple(sorted(found, key=lambda one: one.strength != "wall"))


def _object(code: str, subject: str, sentence: str) -> Objection:
    return Objection(
        code=code, subject=subject, sentence=sentence, strength=STRENGTHS[code]
    )


def _people(days: Sequence[Day], known: dict[str, Hand]) -> Iterator[Objection]:
    for day in days:
        for stay in day.stays:
            for name in stay.team:
                hand = known.get(name, Hand(name=name))
                yield from _too_young(stay, hand)
                yield from _unfit(day, stay, hand)


def _too_young(stay: Stay, hand: Hand) -> Iterator[Objection]:
    if hand.years is not None and hand.years < 18 and (stay.sprays or stay.solvent):
        what = "spraying" if stay.sprays else "solvents and acids"
        yield _object(
            "minor",
            hand.name,
            f"{hand.name} is {hand.years}: no {what} under 18, and {stay.boat} has that.",
        )


def _unfit(day: Day, stay: Stay, hand: Hand) -> Iterator[Objection]:
    if not stay.isocyanate:
        return
    if not hand.has_hood:
        yield _object(
            "fit-test",
            hand.name,
            f"{hand.name} has no air-fed hood with a fit test, and {stay.boat} is two-part.",
        )
    elif hand.fit_until is None:
        yield _object(
            "fit-test",
            hand.name,
            f"Nobody entered until when {hand.name}'s fit test holds, and {stay.boat} is two-part.",
        )
    elif hand.fit_until < day.on:
        yield _object(
            "fit-test",
            hand.name,
            f"{hand.name}'s fit test ran out on {hand.fit_until:%d %b}, and {stay.boat} is two-part on {day.on:%d %b}.",
        )


def _hoods(days: Sequence[Day], limits: ShiftLimits) -> Iterator[Objection]:
    spent: dict[tuple[str, date], timedelta] = {}
    for day in days:
        for stay in day.stays:
            for name in stay.team if stay.isocyanate else ():
                spent[name, day.on] = spent.get((name, day.on), timedelta()) + (
                    stay.span.length
                )
    for (name, on), length in spent.items():
        if length > timedelta(minutes=limits.hood_minutes):
            yield _object(
                "hood-hours",
                name,
                f"{name} is {_long(length)} in a hood on {on:%a %d %b}, at most {_long(timedelta(minutes=limits.hood_minutes))} a day.",
            )


def _gaps(days: Sequence[Day], limits: ShiftLimits) -> Iterator[Objection]:
    least = timedelta(minutes=limits.gap_minutes)
    for name in _names(days):
        own = sorted((day for day in days if name in day.team), key=lambda d: d.out)
        for before, after in pairwise(own):
            off = after.out.start - before.out.end
            if before.on != after.on and off < least:
                yield _object(
                    "start-gap",
                    name,
                    f"{name} is back {_clock(before, before.out.end)} and leaves {_clock(after, after.out.start)}: {_long(off)} off, at least {_long(least)}.",
                )


def _names(days: Sequence[Day]) -> list[str]:
    return list(dict.fromkeys(name for day in days for name in day.team))


def _bystanders(
    days: Sequence[Day], limits: ShiftLimits, words: Words
) -> Iterator[Objection]:
    """Whoever is not of the hooded team keeps off a boat while two-part is laid on her and half an hour after."""
    stays = [(day, stay) for day in days for stay in day.stays]
    after = timedelta(minutes=limits.reentry_minutes)
    for day, wet in stays:
        if not wet.isocyanate:
            continue
        air = Span(wet.span.start, wet.span.end + after)
        for _, other in stays:
            near = other.place == wet.place and intersect((other.span,), (air,))
            others = sorted(set(other.team) - set(wet.team))
            if other is wet or not near or not others or other.isocyanate:
                continue
            far = f"Nobody without a hood within {words.distance(limits.bystander_m)}."
            yield _near(day, wet, other, others, f"{_long(after)} after. {far}")


def _near(
    day: Day, wet: Stay, other: Stay, others: Sequence[str], then: str
) -> Objection:
    same = other.boat == wet.boat
    where = "at the same boat" if same else f"at {other.boat}, in the same place"
    return _object(
        "bystander" if same else "near-isocyanate",
        wet.boat,
        f"Two-part is laid on {wet.boat} {_clock(day, wet.span.start)} to {_clock(day, wet.span.end)}; "
        f"{' and '.join(others)} {'are' if len(others) > 1 else 'is'} {where} then or within {then}",
    )


def _breaks(days: Sequence[Day], limits: ShiftLimits) -> Iterator[Objection]:
    most = timedelta(minutes=limits.breaks.after_minutes)
    for day in (day for day in days if not day.stands):
        for start, end in _stretches(day, limits):
            if end - start > most:
                yield _object(
                    "break",
                    _team(day),
                    f"{_team(day)}: {_long(end - start)} without a break of {limits.breaks.minutes:.0f} min from {_clock(day, start)}, at most {_long(most)}.",
                )


def _stretches(day: Day, limits: ShiftLimits) -> Iterator[tuple[datetime, datetime]]:
    """The day between its ends and a break that is long enough to count."""
    least = timedelta(minutes=limits.breaks.minutes)
    if day.rest is None or day.rest.length < least:
        yield day.out.start, day.out.end
    else:
        yield day.out.start, day.rest.start
        yield day.rest.end, day.out.end


def _sites(days: Sequence[Day], limits: ShiftLimits) -> Iterator[Objection]:
    most = timedelta(minutes=limits.site_minutes)
    for day in days:
        if not day.stays:
            continue
        first = min(stay.span.start for stay in day.stays)
        last = max(stay.span.end for stay in day.stays)
        if last - first > most:
            yield _object(
                "site-hours",
                _team(day),
                f"{_team(day)}: {_long(last - first)} on site on {day.on:%a %d %b}, at most {_long(most)}.",
            )


def _team(day: Day) -> str:
    return ", ".join(day.team)


def _clock(day: Day, moment: datetime) -> str:
    return f"{moment.astimezone(day.zone):%a %H:%M}"


def _long(length: timedelta) -> str:
    hours, minutes = divmod(round(length / timedelta(minutes=1)), 60)
    return (
        f"{hours} h {minutes:02d}"
        if hours and minutes
        else (f"{hours} h" if hours else f"{minutes} min")
    )
