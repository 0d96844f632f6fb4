"""Hand text messages to an HTTP gateway."""

import json
from collections.abc import Mapping
from time import monotonic

import httpx

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, HearAnswer, HearAsk, Message, Receipt
from plugins.notify_sms_http import hearing, pointer, request

_READ_MOST = 65536
# What the answer says of the message itself: it will not be taken, however often it is sent.
_REFUSED = (400, 410, 413, 422)
# RFC 9110, 15.6: the gateway may have passed the message on before it answered so.
_OPEN = (500, 502, 504)


class NotifySmsHttp:
    """The send hook over one gateway, a request a message."""

    def __init__(self, options: Mapping[str, object]) -> None:
        self._options = options
        self._taken = request.statuses(str(options["taken"]))
        self._host = httpx.URL(str(options["url"]).partition("?")[0]).host

    @hookimpl
    def send(self, message: Message) -> Receipt:
        """Ask the gateway once; what it will never take is refused, what may have been taken is unknown."""
        most = int(float(str(self._options["most_segments"])))
        if message.segments > most:
            said = (
                f"the text takes {message.segments} segments, at most {most} are sent"
            )
            return Receipt(status="refused", said=said)
        asked = request.filled(self._options, self._fields(message))
        try:
            status, answer = self._ask(asked)
        except (httpx.ConnectError, httpx.ConnectTimeout, httpx.InvalidURL) as error:
            raise Complaint(
                f"{self._host} cannot be reached ({error}); check url."
            ) from error
        except httpx.HTTPError as error:
            said = f"the line broke ({type(error).__name__})"
            return Receipt(status="unknown", said=said)
        return self._receipt(status, answer)

    def _fields(self, message: Message) -> dict[str, str]:
        return request.signed(self._options) | {
            "to": message.to,
            "text": message.body,
            "key": message.key,
            "segments": str(message.segments),
        }

    def _ask(self, asked: request.Request) -> tuple[int, bytes]:
        """The status and the first part of the answer; no redirect is followed: it would take the secret along."""
        wait = float(str(self._options["wait_seconds"]))
        with (
            httpx.Client(timeout=wait, trust_env=False) as client,
            client.stream(
                asked.method, asked.url, headers=dict(asked.headers), content=asked.body
            ) as response,
        ):
            answer, until = b"", monotonic() + wait
            for part in response.iter_bytes():
                answer += part
                if len(answer) > _READ_MOST or monotonic() > until:
                    break
            return response.status_code, answer

    def _receipt(self, status: int, answer: bytes) -> Receipt:
        said = f"{status} {_words(answer)}".strip()
        if status in self._taken:
            return self._accepted(status, answer)
        if status in _REFUSED:
            return Receipt(status="refused", said=said)
        if status in _OPEN or status < httpx.codes.MULTIPLE_CHOICES:
            return Receipt(status="unknown", said=said)
        raise Complaint(f"{self._host} did not take it: {said}. {_advice(status)}")

    def _accepted(self, status: int, answer: bytes) -> Receipt:
        """Taken; where a number was to be told and was not, nobody knows."""
        where = str(self._options["id_at"])
        if not where:
            return Receipt(status="accepted", said=str(status))
        number = _number(where, answer)
        if number is None:
            said = f"{status} without a number at {where}: {_words(answer)}"
            return Receipt(status="unknown", said=said)
        return Receipt(
            status="accepted", said=f"{status} number {number}", number=number
        )

    @hookimpl
    def hear(self, ask: HearAsk) -> HearAnswer:
        """Read a receipt of delivery or what somebody wrote back, one or several in a post."""
        return hearing.heard(self._options, ask.body)


def make(options: Mapping[str, object]) -> NotifySmsHttp:
    """The plugin's object with its options."""
    return NotifySmsHttp(options)


def _advice(status: int) -> str:
    if status in (httpx.codes.UNAUTHORIZED, httpx.codes.FORBIDDEN):
        return "Check user and secret."
    if status == httpx.codes.PAYMENT_REQUIRED:
        return "Look after the account's balance."
    if status < httpx.codes.BAD_REQUEST:
        return "Put the address it moved to into url."
    if status in (httpx.codes.NOT_FOUND, httpx.codes.METHOD_NOT_ALLOWED):
        return "Check url and method."
    return "It is tried again."


def _number(where: str, answer: bytes) -> str | None:
    """The message's number at a place in a JSON answer, or None where there is none."""
    try:
        data = json.loads(answer)
    except ValueError:
        return None
    return pointer.text_at(where, data, 80) or None


def _words(answer: bytes) -> str:
    """The beginning of an answer as a person reads it."""
    return " ".join(answer[:400].decode("utf-8", "replace").split())[:120]
