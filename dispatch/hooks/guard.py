"""One call to one plugin: catch, check the answer, count strikes, rest it."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

import pluggy

from dispatch.hooks import answers, apart, registry
from dispatch.hooks.manifest import InvalidOption
from dispatch.hooks.registry import Found, said
from dispatch.hooks.specs import PROJECT, Socket
from dispatch.hooks.values import Complaint, Receipt

STRIKES = 3
WITHIN = timedelta(minutes=10)
REST = timedelta(minutes=15)
# Seconds a plugin may take: longer than those that ask a service give themselves, and far shorter
# than a worker keeps what it has claimed.
LIMIT_S = 30.0
LIMITS_S: Mapping[str, float] = {"vetoes": 15.0, "price": 10.0, "send": 60.0}
_LONGEST_FAULT = 500


@dataclass(frozen=True, kw_only=True)
class Conduct:
    """How a plugin has behaved: its late failures, and until when it rests."""

    strikes: tuple[datetime, ...] = ()
    resting_until: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """An answer, or a fault as a sentence that names the plugin; and its conduct after it.

    ``asked`` is false where the plugin was not called at all: it rests, or was refused. ``untouched``
    is true where nothing was done for certain, so that a message may be handed over again.
    """

    answer: Any = None
    fault: str = ""
    conduct: Conduct = field(default_factory=Conduct)
    asked: bool = True
    untouched: bool = False


def call(
    one: Found,
    options: Mapping[str, object],
    hook: str,
    ask: object,
    *,
    now: datetime,
    conduct: Conduct,
) -> Outcome:
    """Load a plugin, put one question to one of its hooks, and check what it says.

    Whatever the plugin does, this returns: unknown is the answer of a plugin that failed. Three
    failures within 10 minutes rest it for 15. ``now`` is the machine's moment. The plugin works in this
    process and takes as long as it likes: that is for its author's tests.
    """
    return _guarded(one, now, conduct, lambda: _ask(one, options, hook, ask))


def call_apart(
    one: Found,
    options: Mapping[str, object],
    hook: str,
    ask: object,
    *,
    now: datetime,
    conduct: Conduct,
) -> Outcome:
    """As ``call``, with the plugin in a process of its own that is killed after the hook's ``LIMITS_S``, or ``LIMIT_S``.

    Being late and ending its process are failures like any other; what it did to its process is gone.
    """
    return _guarded(one, now, conduct, lambda: _apart(one, options, hook, ask))


def after(conduct: Conduct, outcome: Outcome, now: datetime) -> Conduct:
    """A plugin's conduct once it was asked: a fault is a strike more, and enough of them a rest."""
    return _struck(conduct, now) if outcome.fault else _at_work(conduct, now)


def answered_hooks(plugin: object) -> tuple[str, ...]:
    """The hooks a plugin's object answers, by name.

    Raises:
        pluggy.PluginValidationError: it marks a method that is no hook of the socket.
    """
    callers = _manager(plugin).get_hookcallers(plugin) or []
    return tuple(sorted(caller.name for caller in callers))


def _guarded(
    one: Found, now: datetime, conduct: Conduct, asked: Callable[[], Outcome]
) -> Outcome:
    if one.refused:
        fault = f"Plugin {one.name} is not used: {one.refused}"
        return Outcome(fault=fault, conduct=conduct, asked=False, untouched=True)
    if conduct.resting_until is not None and now < conduct.resting_until:
        minutes = math.ceil((conduct.resting_until - now) / timedelta(minutes=1))
        fault = f"Plugin {one.name} rests for up to {minutes} min more, after {STRIKES} failures."
        return Outcome(fault=fault, conduct=conduct, asked=False, untouched=True)
    outcome = asked()
    return replace(outcome, conduct=after(conduct, outcome, now))


def _apart(
    one: Found, options: Mapping[str, object], hook: str, ask: object
) -> Outcome:
    try:
        return apart.within(
            LIMITS_S.get(hook, LIMIT_S), lambda: _ask(one, options, hook, ask)
        )
    except apart.Ended as ended:
        return _fault(one, options, str(ended))


def _ask(one: Found, options: Mapping[str, object], hook: str, ask: object) -> Outcome:
    try:
        answer = _implementation(registry.load(one, options), hook)(ask)
        wrong = answers.wrong(hook, ask, answer)
    except (Complaint, InvalidOption) as complaint:
        what = f"cannot answer: {said(complaint)}"
        return _fault(one, options, what, untouched=True)
    except KeyboardInterrupt:
        raise
    except BaseException as error:  # noqa: BLE001 - a stranger's code may raise anything, and must not take the house along
        return _fault(
            one, options, f"failed with {type(error).__name__}: {said(error)}"
        )
    if wrong:
        return _fault(one, options, f"gave an answer that cannot be used: {wrong}")
    if isinstance(answer, Receipt):
        answer = replace(answer, said=_without_secrets(one, options, answer.said))
    return Outcome(answer=answer)


def _fault(
    one: Found, options: Mapping[str, object], what: str, *, untouched: bool = False
) -> Outcome:
    sentence = f"Plugin {one.name} {_without_secrets(one, options, what)}"
    return Outcome(fault=sentence[:_LONGEST_FAULT], untouched=untouched)


def _without_secrets(one: Found, options: Mapping[str, object], text: str) -> str:
    """A text in which the values of secret options are blotted out: errors and answers may repeat them."""
    secrets = one.manifest.secrets(options) if one.manifest else ()
    for secret in sorted(secrets, key=len, reverse=True):
        text = text.replace(secret, "[secret]")
    return text


def _implementation(plugin: object, hook: str) -> Callable[[object], object]:
    found = getattr(_manager(plugin).hook, hook).get_hookimpls()
    if not found:
        raise Complaint(f"it does not have the hook {hook}.")
    function: Callable[[object], object] = found[0].function
    return function


def _manager(plugin: object) -> pluggy.PluginManager:
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Socket)
    manager.register(plugin)
    manager.check_pending()
    return manager


def _struck(conduct: Conduct, now: datetime) -> Conduct:
    late = (*_at_work(conduct, now).strikes, now)
    rests = now + REST if len(late) >= STRIKES else None
    return Conduct(strikes=late, resting_until=rests)


def _at_work(conduct: Conduct, now: datetime) -> Conduct:
    """Conduct without a rest, and with the strikes that are not too old to count."""
    late = (moment for moment in conduct.strikes if now - moment < WITHIN)
    return Conduct(strikes=tuple(late))
