"""Send a test by one channel to an address of the owner's choice: done by the worker, told in the history."""

from django.db import transaction
from django.utils import timezone

from dispatch.actions import access, due, history, plugins
from dispatch.actions.errors import Refused
from dispatch.hooks.values import Message
from dispatch.notices import segments
from dispatch.records.models import Account, Outfit, PluginState

VERB = "test-channel"
_LONGEST = 40
_BODY = "This is a test from {outfit}: messages arrive here. Nothing needs doing."


@transaction.atomic
def ask(name: str, to: str, *, by: Account) -> None:
    """Leave it to the worker to send a test by a plugin.

    Raises:
        Stranger: the account is not the owner's.
        Refused: the plugin is not turned on, sends nothing, or the address is none or too long.
    """
    access.owner(by)
    if name not in {state.name for state in plugins.enabled("send")}:
        raise Refused(f"Plugin {name} is not turned on, or sends no messages.")
    to = to.strip()
    if not 0 < len(to) <= _LONGEST or not to.isprintable():
        raise Refused(
            f"Say whom the test goes to: a number as +12075550123 or an address, of at most {_LONGEST} letters."
        )
    sentence = f"Asked for a test by {name} to {to}."
    history.write("ask-test", f"plugin {name}", sentence, by=by)
    due.put(VERB, f"{name} {to}")


def send(key: str) -> None:
    """Send it, and tell what the channel said; a fault is told as it is."""
    name, _, to = key.partition(" ")
    state = PluginState.objects.filter(name=name, enabled=True).first()
    if state is None:
        return
    outcome = plugins.ask(state, "send", _message(state, to))
    answer = outcome.answer
    said = outcome.fault or f"{answer.status} ({answer.said or 'it says no more'})."
    sentence = f"Sent a test by {name} to {to}: {said}"
    history.write("test-channel", f"plugin {name}", sentence, actor="keeper")


def _message(state: PluginState, to: str) -> Message:
    outfit = Outfit.objects.values_list("name", flat=True).get()
    body = _BODY.format(outfit=outfit)
    text = plugins.channel_of(state) != "email"
    return Message(
        key=f"test:{state.name}:{to}:{timezone.now().isoformat()}",
        reason="test",
        channel=plugins.channel_of(state),
        to=to,
        subject=f"A test from {outfit}",
        body=body,
        segments=segments.measure(body).count if text else 0,
    )
