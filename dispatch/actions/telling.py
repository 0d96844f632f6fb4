"""Hand what waits in the outbox to the channels."""

from collections.abc import Mapping
from datetime import datetime, timedelta

from django.utils import timezone

from dispatch.actions import (
    announcing,
    clock,
    crew_told,
    owner_told,
    plugins,
    reminders,
    slips,
    still,
    visits_off,
)
from dispatch.hooks import guard
from dispatch.hooks.values import Appointment, Message
from dispatch.notices import outbox, segments
from dispatch.notices.reasons import Reason
from dispatch.records.models import Notice, PluginState
from dispatch.trade.spans import Span

_STATES = {
    "accepted": Notice.State.SENT,
    "refused": Notice.State.REFUSED,
    "unknown": Notice.State.UNKNOWN,
}
_LOOK_AGAIN = timedelta(minutes=2)
_DIED = "The work ended while this was being sent: ask whether it came."


def drain() -> int:
    """Send every message that is due, each once; return how many were handed over.

    Each goes to the plugin of its channel; where a channel has none nothing is claimed, so that
    nothing is lost. Nothing leaves while everything is held still.
    """
    if still.since() is not None:
        return 0
    channels, wall = _channels(), timezone.now()
    _ask_about_lost(channels, wall)
    return sum(_drain(name, plugin, wall) for name, plugin in channels.items())


def _drain(name: str, plugin: PluginState, wall: datetime) -> int:
    """Send what is due by one channel until nothing is left or its plugin rests."""
    handed = 0
    if _rests(plugin):
        return handed
    for notice in outbox.claim(clock.now(), wall, channels=[name]):
        handed += _hand_over(notice, plugin)
        plugin.refresh_from_db()
        if _rests(plugin):
            break
    return handed


def _rests(plugin: PluginState) -> bool:
    return plugin.resting_until is not None and plugin.resting_until > timezone.now()


def _channels() -> dict[str, PluginState]:
    """The channels that anything waits for and a plugin serves, each with its plugin."""
    names = outbox.open_channels()
    return {name: plugin for name in names if (plugin := plugins.channel(name))}


def _ask_about_lost(channels: Mapping[str, PluginState], wall: datetime) -> None:
    """A message lost with its worker is handed over again only where that cannot reach anyone twice."""
    safe = [name for name, plugin in channels.items() if plugins.sends_once(plugin)]
    for notice in outbox.lost(wall).exclude(channel__in=safe):
        outbox.settle(notice, Notice.State.UNKNOWN, _DIED, clock.now())


def _hand_over(notice: Notice, channel: PluginState) -> bool:
    """Whether a claimed message was handed over; it is settled, or put back where nothing was done."""
    now = clock.now()
    if _kept_back(notice, now):
        return False
    in_it = [notice, *visits_off.beside(notice, now, timezone.now())]
    outcome = plugins.ask(channel, "send", _message(notice))
    for one in in_it:
        _settle(one, outcome, now)
    return not outcome.untouched


def _settle(notice: Notice, outcome: guard.Outcome, now: datetime) -> None:
    """Store what became of a message that was handed over, or put it back where nothing was done."""
    if outcome.untouched:
        outbox.release(notice, outcome.fault, now + outbox.again_after(notice.attempts))
        return
    state = Notice.State.UNKNOWN if outcome.fault else _STATES[outcome.answer.status]
    said, number = outcome.fault, ""
    if outcome.answer is not None:
        said, number = outcome.answer.said, outcome.answer.number
    outbox.settle(notice, state, said, now, number=number)


def _kept_back(notice: Notice, now: datetime) -> bool:
    """Whether a claimed message is not to go out now: dropped with the reason, or put back for a later hour."""
    if reminders.waits_for_the_sky(notice, now):
        outbox.release(
            notice, "Waits for the new forecast to be judged.", now + _LOOK_AGAIN
        )
        return True
    if said := (
        _pointless(notice, now)
        or reminders.afresh(notice)
        or crew_told.stale(notice)
        or owner_told.stale(notice)
    ):
        outbox.settle(notice, Notice.State.DROPPED, said, now)
        return True
    at = announcing.allowed(notice.reason, notice.addressee, now)
    if at > now:
        outbox.release(notice, "Waits for the hours to write in.", at)
    return at > now


def _pointless(notice: Notice, now: datetime) -> str:
    """Why a message is not to go out any more, or nothing."""
    if notice.channel == "text" and notice.addressee.text_stopped_at is not None:
        return "STOP came in: call by hand"
    if notice.ends_at is not None and notice.ends_at <= now:
        return "The visit it tells of has begun: call by hand"
    return ""


def _message(notice: Notice) -> Message:
    whom = f"crew {notice.person_id}" if notice.person_id else notice.customer_id
    key = f"{notice.reason}:{notice.fact}:{notice.version}:{notice.channel}:{whom}"
    text = notice.channel == "text"
    return Message(
        key=key,
        reason=notice.reason,
        channel=notice.channel,
        to=notice.to,
        subject=notice.subject,
        body=notice.body,
        appointment=_appointment(notice),
        segments=segments.measure(notice.body).count if text else 0,
    )


def _appointment(notice: Notice) -> Appointment | None:
    """The visit a message tells of, which a calendar knows again when it is told anew, moved or taken back."""
    if notice.begins_at is None or notice.ends_at is None:
        return None
    if notice.reason not in (Reason.ARRIVAL, Reason.MOVED):
        return None
    return Appointment(
        uid=f"{Reason.ARRIVAL}:{notice.fact}:{notice.customer_id}",
        sequence=outbox.telling(notice),
        told_at=clock.now(),
        span=Span(notice.begins_at, notice.ends_at),
        where=notice.job.boat.place.name if notice.job else "",
        cancelled=slips.is_off(notice),
    )
