"""Where a second source tells the sky of a place too, the worse of both counts."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from dispatch.actions import plugins, rates
from dispatch.records.models import Forecast, Place
from dispatch.trade import rulebook
from dispatch.trade.spans import subtract
from dispatch.trade.work import Veto


def others(place: Place, first: Forecast | None, now: datetime) -> Iterator[Forecast]:
    """The newest forecast of each other source that is turned on, while it is no older than may be gone by unasked."""
    if first is None:
        return
    since = now - timedelta(hours=rates.limits().ask_hours)
    known = place.forecasts.filter(issued_at__gte=since, issued_at__lte=now)
    for state in plugins.enabled("forecast"):
        newest = known.filter(source=state.name).order_by("-issued_at").first()
        if newest is not None and newest.source != first.source:
            yield newest


def worse(
    first: Sequence[Veto], second: Sequence[Veto], source: str
) -> tuple[Veto, ...]:
    """The first source's vetoes with what the second forbids beyond them, told with its name.

    What only the second does not know takes nothing away: the first knows it.
    """
    return (*first, *_beyond(first, second, source))


def _beyond(
    first: Sequence[Veto], second: Sequence[Veto], source: str
) -> Iterator[Veto]:
    for veto in second:
        if veto.code in rulebook.MISSING:
            continue
        known = [
            one.span for one in first if (one.code, one.edge) == (veto.code, veto.edge)
        ]
        for span in subtract((veto.span,), known):
            yield replace(veto, span=span, sentence=f"{veto.sentence} (by {source})")
