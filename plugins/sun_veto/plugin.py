"""The sun on a panel, by geometry, as spans in which it may not be sprayed."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import timedelta

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import VetoAnswer, VetoAsk
from dispatch.trade import rulebook, shade
from dispatch.trade.shade import Hull
from dispatch.trade.spans import Span, intersect, normal, subtract
from dispatch.trade.work import Veto

_EXCESS = 1.0


class SunVeto:
    """The vetoes hook by where the sun stands; it needs no forecast and trusts no cloud."""

    def __init__(self, margin: timedelta) -> None:
        self._margin = margin

    @hookimpl
    def vetoes(self, ask: VetoAsk) -> VetoAnswer:
        """Forbid each panel its sun; where nobody has read the heading, all of it is unknown."""
        if not ask.work.panels or ask.work.cover == "roof":
            return VetoAnswer(vetoes=())
        if ask.work.hull is None:
            return VetoAnswer(vetoes=(_no_heading(ask),))
        return VetoAnswer(vetoes=tuple(self._lit(ask, ask.work.hull)))

    def _lit(self, ask: VetoAsk, hull: Hull) -> Iterator[Veto]:
        before = self._margin + timedelta(minutes=ask.work.tail_minutes)
        around = Span(ask.horizon.start - self._margin, ask.horizon.end + before)
        shades = shade.panel_shades(ask.work.site, hull, ask.work.panels, around)
        for panel, shaded in shades.items():
            sunny = subtract((around,), shaded)
            wide = (Span(s.start - before, s.end + self._margin) for s in sunny)
            for span in subtract(intersect(normal(wide), (ask.horizon,)), _waived(ask)):
                yield self._sun(ask, panel, span)

    def _sun(self, ask: VetoAsk, panel: str, span: Span) -> Veto:
        minutes = self._margin.total_seconds() / 60
        return Veto(
            span=span,
            edge="during",
            code="sun",
            sentence=f"{panel} is in the sun, or within {minutes:g} min of it while the film levels "
            f"({ask.work.tail_minutes} min); clouds are not counted on",
            numbers={"margin_minutes": minutes, "tail_minutes": ask.work.tail_minutes},
            strength=rulebook.strength("sun"),
            excess=_EXCESS,
        )


def make(options: Mapping[str, object]) -> SunVeto:
    """The plugin's object with its option."""
    return SunVeto(timedelta(minutes=float(str(options["margin_minutes"]))))


def _waived(ask: VetoAsk) -> Iterable[Span]:
    """Where somebody who may has overruled the sun."""
    return [
        row.span
        for row in ask.work.overruled
        if row.code == "sun" and row.excess >= _EXCESS
    ]


def _no_heading(ask: VetoAsk) -> Veto:
    return Veto(
        span=ask.horizon,
        edge="during",
        code="no-heading",
        sentence="nobody has read which way she heads: shade is unknown, so not a go",
        numbers={},
        strength=rulebook.strength("no-heading"),
    )
