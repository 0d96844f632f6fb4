"""The trade's rules, as a plugin."""

from collections.abc import Mapping

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import VetoAnswer, VetoAsk
from dispatch.trade import window


class WeatherVeto:
    """The vetoes hook by the trade's own rules."""

    @hookimpl
    def vetoes(self, ask: VetoAsk) -> VetoAnswer:
        """Judge one piece of work over the span asked for."""
        return VetoAnswer(
            vetoes=window.vetoes(ask.work, ask.sky, ask.horizon, ask.units)
        )


def make(options: Mapping[str, object]) -> WeatherVeto:  # noqa: ARG001 - it has no options, the socket's shape has
    """The plugin's object."""
    return WeatherVeto()
