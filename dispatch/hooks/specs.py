"""Every hook of the socket. The docstrings are the manual."""

import pluggy

from dispatch.hooks.values import (
    DrivesAnswer,
    DrivesAsk,
    ForecastAnswer,
    ForecastAsk,
    HearAnswer,
    HearAsk,
    Message,
    PriceAnswer,
    PriceAsk,
    PublishAsk,
    Published,
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

        ``ask`` (a ``ForecastAsk``) names the place and the span wanted. Answer a ``ForecastAnswer``:
        the hours in order, each from its own moment on, numbers in SI (C, m/s, mm, degrees, percent)
        and None where the source does not say; never guess, and leave out an hour it says nothing
        of. Raise ``Complaint`` with one clear sentence when the source cannot be read or has no hour
        of the span: nothing of it is then taken in, and an older forecast stays. So it is where numbers
        cannot be, or stand still for 30 hours: a wind of 0, or air and wind together.

        A plugin holds nothing between two asks. What it wants to know again, an ETag say, it puts into
        ``keep``, a text, and finds in ``kept`` of its next ask for the place; where the source then says
        that nothing has changed, it answers ``unchanged`` and no hours.
        """
        raise NotImplementedError

    @hookspec
    def vetoes(self, ask: VetoAsk) -> VetoAnswer:
        """Say when a piece of work may not be done.

        ``ask`` (a ``VetoAsk``) carries the work, the sky and the span to judge; the sky is None where
        there is no forecast. Answer a ``VetoAnswer`` of spans with a code, a sentence that shows the
        numbers compared in the ask's units, and who may overrule it. Its ``excess``, how far past the
        limit it is, lets an owner's override lapse when it grows. What is not known is a veto with the
        code ``unknown``. The work carries what was read on the hull and what was overruled.
        """
        raise NotImplementedError

    @hookspec
    def drives(self, ask: DrivesAsk) -> DrivesAnswer:
        """Tell how long it is from place to place by road.

        ``ask`` (a ``DrivesAsk``) names where from and where to. Answer a ``DrivesAnswer`` of legs: whole
        minutes with getting under way, and metres, by a van without a trailer. Leave out what is not known;
        the next plugin is asked for it, and the house reckons the rest by distance. It is asked in a task
        and what it tells is stored, so a page or a plan never waits for it.
        """
        raise NotImplementedError

    @hookspec
    def price(self, ask: PriceAsk) -> PriceAnswer:
        """Say what a job is to cost.

        ``ask`` (a ``PriceAsk``) carries the job and the catalogue's own lines. Answer a ``PriceAnswer``: the
        whole price in lines of whole cents, together nought or more; the catalogue's lines may be among them.
        Answer no lines where you have no price for such a job: the next plugin is asked, else the catalogue's
        stands. Raise ``Complaint`` only where you could tell and cannot now. It is asked in a task when
        a job is taken or changed, and what it tells is stored and shown beside what was agreed, which it never changes.
        """
        raise NotImplementedError

    @hookspec
    def send(self, message: Message) -> Receipt:
        """Hand one message to a channel.

        ``message`` (a ``Message``) has a key: the same key must reach the person once, however often
        it is handed over; a manifest whose ``once`` is false is never handed a message again after a
        worker died with it. Answer a ``Receipt``: ``accepted``, ``refused`` (it will never be taken), or
        ``unknown`` when it may or may not have been taken. Raise ``Complaint`` only when it was
        certainly not taken and may be tried again.
        """
        raise NotImplementedError

    @hookspec
    def hear(self, ask: HearAsk) -> HearAnswer:
        """Read what a service of yours posts back to the house: receipts of delivery, and what people answer.

        ``ask`` (a ``HearAsk``) carries a body that was posted to ``/hear/NAME/``, signed with the secret
        option that the manifest's ``signed_by`` names; the house has seen to that, and that it is taken
        once. Answer a ``HearAnswer``. Raise ``Complaint`` where the body cannot be read.
        """
        raise NotImplementedError

    @hookspec
    def publish(self, ask: PublishAsk) -> Published:
        """Write a person's posted visits for a program of theirs to read.

        ``ask`` (a ``PublishAsk``) carries the visits. Answer a ``Published``: the text as it is to be
        served, at most a million letters. It is written in a task, kept, and served at a private
        address; what is not sure is not to look sure.
        """
        raise NotImplementedError


HOOKS = tuple(sorted(name for name in vars(Socket) if not name.startswith("_")))
