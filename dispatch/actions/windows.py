"""When a stage may be done: the place's hours, less what the sky forbids."""

from collections.abc import Container, Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from dispatch.actions import (
    board_words,
    facts,
    last_answers,
    overrides,
    place_rules,
    rates,
)
from dispatch.records.models import Closure, Place, Stage
from dispatch.trade import window, work
from dispatch.trade.spans import Span, intersect, normal, subtract

_KEEPS_OUT = (Closure.Kind.SHUT, Closure.Kind.TIDE)


def access(place: Place, span: Span) -> tuple[Span, ...]:
    """The spans in which a place lets the crew work, in its own zone's wall-clock hours.

    Where it lets them in all the same, neither its hours nor its being shut keep them out; a tide does.
    """
    let_in = _rows(place, Closure.Kind.LET_IN, span)
    free = normal((*_open(place, span), *let_in))
    shut = subtract(_rows(place, Closure.Kind.SHUT, span), let_in)
    tide = _rows(place, Closure.Kind.TIDE, span)
    return subtract(intersect(free, (span,)), (*shut, *tide))


def shut(place: Place, span: Span) -> str:
    """What of a place's dated rules keeps the crew out in a span, as a sentence; empty where none does."""
    zone, free = ZoneInfo(place.time_zone), access(place, span)
    for row in place.closures.all():
        cut = intersect((Span(row.start, row.end),), (span,))
        if row.kind in _KEEPS_OUT and subtract(cut, free):
            start, end = (board_words.dated(m, zone) for m in (row.start, row.end))
            return f"{place.name} is closed to us from {start} to {end}: {row.reason}."
    return ""


def of(stage: Stage, span: Span) -> tuple[window.Window, ...]:
    """The windows of a stage inside a span, each with the veto that binds it before and after.

    A stage that was not judged over the whole span, or whose plugin failed, has none:
    unknown is never a go. While a plugin rests its last answer counts, wider the older it is.
    """
    known = against(stage, span)
    if known is None:
        return ()
    own = facts.work(stage, span, rates.limits())
    return window.may_do(
        access(stage.job.boat.place, span),
        known,
        timedelta(minutes=own.quickest_minutes),
    )


def against(stage: Stage, span: Span) -> tuple[work.Veto, ...] | None:
    """The vetoes against a stage over a span, the place's rules first, less what was overruled; None where they are not known."""
    gone_by = last_answers.of(stage)
    if not _judged(stage, span, gone_by):
        return None
    found = [
        veto
        for veto in last_answers.vetoes(stage, span, gone_by)
        if veto.span.start < span.end and veto.span.end > span.start
    ]
    return (*place_rules.against(stage, span), *overrides.left(stage, found))


def _judged(stage: Stage, span: Span, gone_by: Container[str]) -> bool:
    rows = list(stage.judged.all())
    return bool(rows) and all(
        (not row.fault or row.plugin in gone_by)
        and row.since <= span.start
        and row.until >= span.end
        for row in rows
    )


def _rows(place: Place, kind: str, span: Span) -> tuple[Span, ...]:
    """A place's dated rules of a kind that touch a span."""
    rows = (row for row in place.closures.all() if row.kind == kind)
    found = [Span(row.start, row.end) for row in rows]
    return normal(one for one in found if intersect((one,), (span,)))


def _open(place: Place, span: Span) -> Iterator[Span]:
    zone = ZoneInfo(place.time_zone)
    rows = list(place.access_hours.all())
    day = span.start.astimezone(zone).date()
    while datetime.combine(day, datetime.min.time(), tzinfo=zone) < span.end:
        for row in rows:
            if row.weekday == day.weekday():
                start, end = (
                    datetime.combine(day, clock, tzinfo=zone).astimezone(UTC)
                    for clock in (row.start, row.end)
                )
                yield Span(start, end)
        day += timedelta(days=1)
