"""How long films need, by the minute they are finished: each table worked out once a snapshot."""

from datetime import timedelta

from dispatch.actions import clock, facts, rates
from dispatch.records.models import Stage
from dispatch.trade import lags, samples
from dispatch.trade.cure import Surface
from dispatch.trade.spans import Span

# Film that does not set by this forecast: its followers wait beyond any horizon.
NEVER_MINUTES = 30 * 1440
_BEYOND = timedelta(days=3)


class Cures:
    """Cure tables of one snapshot, remembered by place, hull and product."""

    def __init__(self) -> None:
        self._surfaces: dict[object, Surface | None] = {}
        self._tables: dict[object, int | list[list[int]]] = {}

    def table(
        self, stage: Stage, span: Span, ref_h: float, min_c: float
    ) -> int | list[list[int]]:
        """Rows ``[from, to, minutes]`` over a span; without a forecast, longer than any week."""
        key = (self._hull(stage, span), span, ref_h, min_c)
        if key not in self._tables:
            surface = self._surface(stage, span)
            self._tables[key] = (
                NEVER_MINUTES if surface is None else _rows(surface, span, ref_h, min_c)
            )
        return self._tables[key]

    def _hull(self, stage: Stage, span: Span) -> tuple[object, ...]:
        """What a hull's temperature hangs on: hulls of one colour at one place share it, until one is read."""
        boat = stage.job.boat
        read = facts.readings(boat, span, rates.limits())
        return boat.place_id, boat.dark, read

    def _surface(self, stage: Stage, span: Span) -> Surface | None:
        boat = stage.job.boat
        key = (self._hull(stage, span), span)
        if key not in self._surfaces:
            sky = facts.sky_so_far(
                boat.place, clock.now(), Span(span.start, span.end + _BEYOND)
            )
            work = facts.work(stage, span, rates.limits())
            self._surfaces[key] = samples.surface(work, sky) if sky else None
        return self._surfaces[key]


def _rows(surface: Surface, span: Span, ref_h: float, min_c: float) -> list[list[int]]:
    return [
        [first, last, NEVER_MINUTES if wait is None else wait]
        for first, last, wait in lags.lag_table(surface, span, ref_h, min_c)
    ]
