"""Hand what waits in the outbox to the channels."""

from django.utils import timezone

from dispatch.actions import clock, plugins
from dispatch.hooks.values import Message
from dispatch.notices import outbox
from dispatch.records.models import Notice

_STATES = {
    "accepted": Notice.State.SENT,
    "refused": Notice.State.REFUSED,
    "unknown": Notice.State.UNKNOWN,
}


def drain() -> int:
    """Send every message that is due, each once; return how many were handed over.

    With no channel enabled nothing is claimed, so that nothing is lost.
    """
    channel = next(plugins.enabled("send"), None)
    if channel is None:
        return 0
    handed = 0
    for notice in outbox.claim(clock.now(), timezone.now()):
        if notice.channel == "text" and notice.customer.text_stopped_at is not None:
            outbox.settle(
                notice, Notice.State.DROPPED, "STOP came in: call by hand", clock.now()
            )
            continue
        outcome = plugins.ask(channel, "send", _message(notice))
        if outcome.untouched:
            outbox.release(notice, outcome.fault)
            continue
        state = (
            Notice.State.UNKNOWN if outcome.fault else _STATES[outcome.answer.status]
        )
        outbox.settle(notice, state, outcome.fault or outcome.answer.said, clock.now())
        handed += 1
    return handed


def _message(notice: Notice) -> Message:
    key = f"{notice.reason}:{notice.fact}:{notice.version}:{notice.channel}:{notice.customer_id}"
    return Message(
        key=key,
        reason=notice.reason,
        channel=notice.channel,
        to=notice.to,
        subject=notice.subject,
        body=notice.body,
    )
