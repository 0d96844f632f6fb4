"""What services post back about messages: taken once, if it is signed; read by its plugin in a task."""

import hashlib
from datetime import timedelta

from django.db import IntegrityError, transaction
from django.utils import timezone

from dispatch.actions import clock, due, history, plugins
from dispatch.actions.errors import Refused, Stale, Stranger
from dispatch.hooks import signing
from dispatch.hooks.values import Answered, Delivery, HearAnswer, HearAsk
from dispatch.records.models import Customer, Notice, Person, PluginState, Post, Reply

VERB = "hear"
MOST_BYTES = 65536
# Common practice of text messaging: a text of one of these words alone.
_STOP = frozenset({"stop", "stopall", "unsubscribe", "end", "quit", "cancel"})
_START = frozenset({"start", "unstop"})
# A service tries again within minutes; the same words later are said anew.
_RETRIED = timedelta(minutes=10)


@transaction.atomic
def take(name: str, timestamp: str, signature: str, body: bytes) -> None:
    """Take in a post for a plugin, and leave it to the worker to have it read.

    Raises:
        Stranger: no such plugin that hears is turned on, or the signature is not right or not of just now.
        Refused: the body is too long or no text.
        Stale: it was taken before.
    """
    if len(body) > MOST_BYTES:
        raise Refused(f"The post is longer than {MOST_BYTES} bytes; send it in parts.")
    state = _hearing(name)
    if not signing.fresh(timestamp, timezone.now()) or not signing.right(
        plugins.signing_secret(state), timestamp, signature, body
    ):
        raise Stranger("The signature is not right, or older than 5 minutes.")
    post = Post(
        plugin=name,
        # Of what was signed, not of how the signature was written: the same post in other letters is the same.
        signature=hashlib.sha256(f"{name}.{timestamp}.".encode() + body).hexdigest(),
        received_at=timezone.now(),
        body=_text(body),
    )
    try:
        with transaction.atomic():
            post.save()
    except IntegrityError as error:
        raise Stale("This post was taken before.") from error
    due.put(VERB, str(post.pk))


def hear(pk: str) -> None:
    """Have a post read by its plugin, and do what it tells.

    Raises:
        Refused: the plugin could not read it; it is tried again.
        Stranger: the plugin was turned off meanwhile.
    """
    post = Post.objects.filter(pk=pk, heard_at=None).first()
    if post is None:
        return
    state = _hearing(post.plugin)
    outcome = plugins.ask(state, "hear", HearAsk(body=post.body, at=post.received_at))
    if outcome.fault:
        Post.objects.filter(pk=post.pk).update(fault=outcome.fault)
        raise Refused(outcome.fault)
    _settle(post, outcome.answer)


def _hearing(name: str) -> PluginState:
    state = next((one for one in plugins.enabled("hear") if one.name == name), None)
    if state is None:
        raise Stranger(f"No plugin {name} that hears is turned on.")
    return state


def _text(body: bytes) -> str:
    try:
        text = body.decode()
    except UnicodeDecodeError as error:
        raise Refused("The post is no text in UTF-8.") from error
    if "\0" in text:
        raise Refused("The post has a zero byte in it, which no text has.")
    return text


@transaction.atomic
def _settle(post: Post, answer: HearAnswer) -> None:
    """Store what a post told, once."""
    if not Post.objects.filter(pk=post.pk, heard_at=None).update(
        heard_at=timezone.now(), fault="", body=""
    ):
        return
    for delivery in answer.deliveries:
        _deliver(delivery)
    for answered in answer.answers:
        _reply(post, answered)


def _deliver(told: Delivery) -> None:
    """What became of a message; one that failed is not called sent any more, one that arrived stays so."""
    sent = Notice.objects.filter(number=told.number).exclude(delivery="delivered")
    sent.update(delivery=told.state, delivery_at=clock.now())
    if told.state == Notice.Delivery.DELIVERED:
        unknown = Notice.objects.filter(number=told.number, state=Notice.State.UNKNOWN)
        unknown.update(state=Notice.State.SENT, settled_at=clock.now())


def _reply(post: Post, answered: Answered) -> None:
    """Store what somebody wrote; STOP ends all texts to that number at once, START lets them go again.

    What the service posts a second time, signed anew, was heard already.
    """
    if _heard(post.plugin, answered):
        return
    customers = list(Customer.objects.filter(phone=answered.sender))
    people = list(Person.objects.filter(phone=answered.sender))
    try:
        with transaction.atomic():
            _store(post, answered, customers, people)
    except IntegrityError:
        # Another worker hears the same answer in this moment.
        return
    word = answered.text.strip().strip(".!").lower()
    if word in _STOP | _START:
        _stop([*customers, *people], answered.sender, stop=word in _STOP)


def _store(
    post: Post, answered: Answered, customers: list[Customer], people: list[Person]
) -> None:
    Reply.objects.create(
        plugin=post.plugin,
        sender=answered.sender,
        text=answered.text,
        number=answered.number,
        at=clock.now(),
        customer=customers[0] if customers else None,
        person=people[0] if people else None,
    )


def _heard(plugin: str, answered: Answered) -> bool:
    """Whether an answer is stored: by its number, or where it has none as the sender's last words of just now."""
    if answered.number:
        same = Reply.objects.filter(plugin=plugin, number=answered.number)
        return same.exists()
    last = Reply.objects.filter(plugin=plugin, sender=answered.sender).first()
    return (
        last is not None
        and (last.text, last.number) == (answered.text, "")
        and clock.now() - last.at <= _RETRIED
    )


def _stop(known: list[Customer | Person], number: str, *, stop: bool) -> None:
    at = clock.now() if stop else None
    Customer.objects.filter(phone=number).update(text_stopped_at=at)
    Person.objects.filter(phone=number).update(text_stopped_at=at)
    if stop:
        waiting = Notice.objects.filter(
            channel="text", to=number, state=Notice.State.WAITING
        )
        waiting.update(
            state=Notice.State.DROPPED,
            said="STOP came in: call by hand",
            settled_at=at,
        )
    for one in known:
        did = "wants no more texts: call by hand" if stop else "takes texts again"
        sentence = f"{one.name} {did} ({number})."
        verb = "text-stop" if stop else "text-start"
        crew = isinstance(one, Person)
        subject = (
            f"person {one.key}" if isinstance(one, Person) else f"customer {one.pk}"
        )
        history.write(verb, subject, sentence, actor="crew" if crew else "customer")
