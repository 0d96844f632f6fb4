"""Hand text messages to a message centre over SMPP 3.4."""

import zlib
from collections.abc import Mapping

from dispatch.hooks.specs import hookimpl
from dispatch.hooks.values import Complaint, Message, Receipt
from plugins.notify_sms_smpp import coding, pdu
from plugins.notify_sms_smpp.pdu import Short
from plugins.notify_sms_smpp.session import Broken, Session, bound

# SMPP 3.4, 5.1.3: what says of the message itself that it will never be taken.
_REFUSED: Mapping[int, str] = {
    0x00000001: "the message's length is wrong",
    0x0000000A: "the sender's address is wrong",
    0x0000000B: "the receiver's number is wrong",
    0x00000048: "the type of the sender's address is wrong",
    0x00000049: "the plan of the sender's address is wrong",
    0x00000050: "the type of the receiver's number is wrong",
    0x00000051: "the plan of the receiver's number is wrong",
}
_LATER: Mapping[int, str] = {
    0x00000008: "its system has an error",
    0x00000014: "its queue is full",
    0x00000058: "too much was sent in too short a time",
}


class NotifySmsSmpp:
    """The send hook over one centre, a session a message."""

    def __init__(self, options: Mapping[str, object]) -> None:
        self._options = options

    @hookimpl
    def send(self, message: Message) -> Receipt:
        """Submit the parts in order; once one was taken, what fails later leaves the whole unknown."""
        try:
            parts = self._parts(message)
        except ValueError as error:
            return Receipt(status="refused", said=str(error))
        with bound(self._options) as session:
            return _submitted(session, parts)

    def _parts(self, message: Message) -> list[Short]:
        """The message as short ones.

        Raises:
            ValueError: an address has too many letters or other than plain ones, or the text takes too many parts.
        """
        gsm = str(self._options["alphabet"]) == "gsm"
        kind, letters = coding.coded(message.body, gsm=gsm)
        # The same message has the same reference however often it is tried.
        bodies = coding.parts(kind, letters, zlib.crc32(message.key.encode()))
        most = int(float(str(self._options["most_segments"])))
        if len(bodies) > most:
            raise ValueError(
                f"the text takes {len(bodies)} segments, at most {most} are sent"
            )
        shorts = [
            Short(
                source=pdu.address(str(self._options["sender"])),
                destination=pdu.address(message.to),
                coding=kind,
                message=body,
                headed=len(bodies) > 1,
            )
            for body in bodies
        ]
        for short in shorts:
            short.packed()
        return shorts


def make(options: Mapping[str, object]) -> NotifySmsSmpp:
    """The plugin's object with its options."""
    return NotifySmsSmpp(options)


def _submitted(session: Session, parts: list[Short]) -> Receipt:
    numbers: list[str] = []
    for part in parts:
        try:
            answer = session.ask(pdu.SUBMIT_SM, part.packed())
        except Broken as broken:
            return Receipt(status="unknown", said=f"the line broke ({broken})")
        if answer.status:
            return _not_taken(answer.status, len(numbers), len(parts))
        numbers.append(pdu.message_id(answer.body))
    return Receipt(status="accepted", said=f"number {', '.join(numbers)}"[:200])


def _not_taken(status: int, taken: int, parts: int) -> Receipt:
    """What a status other than 0 comes to.

    Raises:
        Complaint: nothing was taken, and it may be tried again.
    """
    said = _REFUSED.get(status) or _LATER.get(status) or "it does not say why"
    what = f"status 0x{status:08X}: {said}"
    if taken:
        return Receipt(
            status="unknown", said=f"{taken} of {parts} parts were taken, then {what}"
        )
    if status in _LATER:
        raise Complaint(
            f"the message centre did not take it, {what}. It is tried again."
        )
    return Receipt(status="refused", said=what)
