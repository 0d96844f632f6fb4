"""A place's hours, quiet hours and holidays, as spans in which work may not be done."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import VetoAnswer, VetoAsk
from dispatch.trade.spans import Span, intersect, subtract
from dispatch.trade.work import Veto
from plugins.site_hours.book import Book, Open, read

_DAY = timedelta(days=1)


class SiteHours:
    """The vetoes hook by the clock and the calendar of a place."""

    def __init__(self, book: Book) -> None:
        self._book = book

    @hookimpl
    def vetoes(self, ask: VetoAsk) -> VetoAnswer:
        """Forbid what lies outside the gate's hours, loud work outside the hours for it, and holidays."""
        return VetoAnswer(
            vetoes=(*self._holidays(ask), *self._shut(ask), *self._quiet(ask))
        )

    def _holidays(self, ask: VetoAsk) -> Iterator[Veto]:
        for day in _days(ask):
            if name := self._book.holiday(ask.place_key, day):
                said = f"{name}: the place is shut"
                yield from _cut((_whole(day, ask.work.zone),), ask, "holiday", said)

    def _shut(self, ask: VetoAsk) -> Iterator[Veto]:
        hours = self._book.access.get(ask.place_key)
        if hours is not None:
            closed = subtract((ask.horizon,), _opened(hours, ask))
            said = "outside the hours of the place's gate"
            yield from _cut(closed, ask, "site-hours", said)

    def _quiet(self, ask: VetoAsk) -> Iterator[Veto]:
        hours = self._book.loud_hours(ask.place_key)
        if hours is not None and ask.work.family in self._book.noisy:
            quiet = subtract((ask.horizon,), _opened(hours, ask))
            said = f"the place's quiet hours: {ask.work.family} work is loud"
            yield from _cut(quiet, ask, "quiet-hours", said)


def make(options: Mapping[str, object]) -> SiteHours:
    """The plugin's object with its options."""
    return SiteHours(read(options))


def _days(ask: VetoAsk) -> Iterator[date]:
    """The days that the horizon touches, by the place's clock."""
    day = ask.horizon.start.astimezone(ask.work.zone).date()
    while _moment(day, time(0), ask.work.zone) < ask.horizon.end:
        yield day
        day += _DAY


def _opened(hours: Iterable[Open], ask: VetoAsk) -> Iterator[Span]:
    for day in _days(ask):
        for one in hours:
            if day.weekday() in one.weekdays:
                yield _span(day, one, ask.work.zone)


def _span(day: date, one: Open, zone: ZoneInfo) -> Span:
    end = _moment(day, one.end, zone) if one.end else _moment(day + _DAY, time(0), zone)
    return Span(_moment(day, one.start, zone), end)


def _whole(day: date, zone: ZoneInfo) -> Span:
    return Span(_moment(day, time(0), zone), _moment(day + _DAY, time(0), zone))


def _moment(day: date, clock: time, zone: ZoneInfo) -> datetime:
    """A wall-clock time as a moment; one that the change of clocks leaves out is an hour later."""
    return datetime.combine(day, clock, tzinfo=zone).astimezone(UTC)


def _cut(
    spans: Iterable[Span], ask: VetoAsk, code: str, sentence: str
) -> Iterator[Veto]:
    """A wall for each piece of the spans inside the horizon."""
    for span in intersect(spans, (ask.horizon,)):
        yield Veto(
            span=span,
            edge="during",
            code=code,
            sentence=sentence,
            numbers={},
            strength="wall",
        )
