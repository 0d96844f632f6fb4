"""The tide as spans in which work may not be done."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import VetoAnswer, VetoAsk
from dispatch.trade.spans import Span, intersect, normal, subtract
from dispatch.trade.work import Veto
from plugins.tide_gate.gates import Gate, Tides, read
from plugins.tide_gate.harmonics import height_m

_STEP = timedelta(minutes=6)
# Beyond this nothing is known: high waters of a half-daily tide come at most this far apart.
_APART = timedelta(hours=14)
_HALF = timedelta(hours=6)
_PAST = timedelta(hours=12)


class TideGate:
    """The vetoes hook by the tide at a place's gate."""

    def __init__(self, tides: Tides) -> None:
        self._tides = tides

    @hookimpl
    def vetoes(self, ask: VetoAsk) -> VetoAnswer:
        """Forbid what lies outside the gate's tide; where no table reaches, it is unknown."""
        gate = self._tides.gates.get(ask.place_key)
        if gate is None:
            return VetoAnswer(vetoes=())
        highs = self._highs(ask)
        known = self._known(highs, ask)
        unknown = subtract((ask.horizon,), known)
        shut = subtract(known, self._usable(gate, highs, ask))
        return VetoAnswer(vetoes=(*_unknown(unknown), *_shut(shut, gate)))

    def _highs(self, ask: VetoAsk) -> list[datetime]:
        """The high waters about the horizon, by the table or the constants."""
        around = Span(ask.horizon.start - _PAST, ask.horizon.end + _PAST)
        if self._tides.table:
            zone = ask.work.zone
            told = (at.replace(tzinfo=zone).astimezone(UTC) for at in self._tides.table)
            return sorted(told)
        return list(_tops(list(self._heights(around))))

    def _heights(self, span: Span) -> Iterator[tuple[datetime, float]]:
        at = span.start
        while at < span.end:
            yield at, height_m(self._tides.constants, self._tides.mean_m, at)
            at += _STEP

    def _known(self, highs: list[datetime], ask: VetoAsk) -> tuple[Span, ...]:
        """Where the tide is known: everywhere by constants, between the high waters of a table."""
        if self._tides.constants:
            return (ask.horizon,)
        spans = [Span(high - _HALF, high + _HALF) for high in highs]
        spans += [Span(a, b) for a, b in pairwise(highs) if a < b <= a + _APART]
        return intersect(spans, (ask.horizon,))

    def _usable(
        self, gate: Gate, highs: list[datetime], ask: VetoAsk
    ) -> tuple[Span, ...]:
        if gate.hours is not None:
            reach = timedelta(hours=gate.hours)
            return normal(Span(high - reach, high + reach) for high in highs)
        least = gate.above_m or 0.0
        heights = self._heights(Span(ask.horizon.start, ask.horizon.end + 2 * _STEP))
        # A step counts as high enough only if the next one is, too: the tide turns slowly.
        return normal(
            Span(at, later)
            for (at, height), (later, then) in pairwise(heights)
            if min(height, then) >= least
        )


def make(options: Mapping[str, object]) -> TideGate:
    """The plugin's object with its options."""
    return TideGate(read(options))


def _tops(heights: list[tuple[datetime, float]]) -> Iterator[datetime]:
    """The moments of high water, between the steps by the parabola through three of them."""
    triples = zip(heights, heights[1:], heights[2:], strict=False)
    for (_, before), (at, top), (_, after) in triples:
        if before < top >= after:
            bend = before - 2 * top + after
            yield at + _STEP * (0.5 * (before - after) / bend)


def _unknown(spans: Iterable[Span]) -> Iterator[Veto]:
    said = "the table of high waters does not reach these hours: unknown, so not a go"
    yield from (_wall(span, "unknown", said, {}) for span in spans)


def _shut(spans: Iterable[Span], gate: Gate) -> Iterator[Veto]:
    if gate.hours is not None:
        said = f"the tide is out: usable {gate.hours:g} h either side of high water"
        numbers = {"gate_hours": gate.hours}
    else:
        said = f"the tide is out: {gate.above_m:g} m of water are wanted"
        numbers = {"gate_m": gate.above_m or 0.0}
    yield from (_wall(span, "tide", said, numbers) for span in spans)


def _wall(span: Span, code: str, said: str, numbers: Mapping[str, float]) -> Veto:
    return Veto(
        span=span,
        edge="during",
        code=code,
        sentence=said,
        numbers=numbers,
        strength="wall",
    )
