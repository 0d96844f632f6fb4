"""Every hook of the socket. The docstrings are the manual."""

import pluggy

from dispatch.hooks.values import (
    ForecastAnswer,
    ForecastAsk,
    Message,
    Receipt,
    VetoAnswer,
    VetoAsk,
)

PROJECT = "leeboard"
SOCKET = 1

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


class Socket:
    """The hooks a plugin may implement, each as a method of the object its ``make`` returns."""

    @hookspec
    def forecast(self, ask: ForecastAsk) -> ForecastAnswer:
        """Read the forecast of one place.

        ``ask`` names the place and the span wanted. Answer the hours in order, each number in SI
        and None where the source does not say; never guess. Raise an exception with one clear
        sentence when the source cannot be read: nothing of it is then taken in.
        """
        raise NotImplementedError

    @hookspec
    def vetoes(self, ask: VetoAsk) -> VetoAnswer:
        """Say when a piece of work may not be done.

        ``ask`` carries the work, the sky and the span to judge. Answer spans with a code, a
        sentence that shows the numbers compared, and who may overrule it. What is not known
        is a veto with the code ``unknown``.
        """
        raise NotImplementedError

    @hookspec
    def send(self, message: Message) -> Receipt:
        """Hand one message to a channel.

        ``message`` has a key: the same key must reach the person once, however often it is
        handed over. Answer ``unknown`` when it may or may not have been taken.
        """
        raise NotImplementedError
