"""What a gateway posts back, read by the places in its JSON that the options name."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from dispatch.hooks.values import Answered, Complaint, Delivery, HearAnswer
from plugins.notify_sms_http import pointer

_LONGEST_TEXT = 4000
_THINGS = ("id", "state", "from", "text", "each")
_WORDS = ("delivered", "failed")


@dataclass(frozen=True, kw_only=True)
class Places:
    """Where things stand in a post, and the words of states."""

    at: Mapping[str, str]
    words: Mapping[str, frozenset[str]]

    def told(self, what: str, part: object, most: int) -> str:
        """What a part of a post tells of a thing; empty where it tells nothing."""
        return pointer.text_at(self.at[what], part, most) if what in self.at else ""


def places(options: Mapping[str, object]) -> Places:
    """The options as places and words.

    Raises:
        ValueError: one cannot be read; the text says which.
    """
    at = dict(_at(line) for line in _lines(options["hear_at"]))
    return Places(at=at, words=dict(_words(x) for x in _lines(options["hear_words"])))


def wrong(options: Mapping[str, object]) -> str:
    """What cannot be read, or nothing."""
    try:
        places(options)
    except ValueError as error:
        return str(error)
    return ""


def heard(options: Mapping[str, object], body: str) -> HearAnswer:
    """The receipts and the answers in a post.

    Raises:
        Complaint: it is no JSON, or nothing in it stands where the options say.
    """
    try:
        data = json.loads(body)
    except ValueError as error:
        raise Complaint(f"what the gateway posted is no JSON ({error}).") from error
    where = places(options)
    each = pointer.at(where.at["each"], data) if "each" in where.at else data
    parts = each if isinstance(each, list) else [each]
    told = HearAnswer(
        deliveries=tuple(one for part in parts for one in _deliveries(where, part)),
        answers=tuple(one for part in parts for one in _answers(where, part)),
    )
    # A state that is neither, as sent on its way is, is read and tells nothing.
    if not any(where.told("state", p, 80) or where.told("from", p, 80) for p in parts):
        raise Complaint(
            "nothing in what the gateway posted stands where the option hear_at says; compare it with the gateway's own pages."
        )
    return told


def _deliveries(where: Places, part: object) -> Iterator[Delivery]:
    number, state = where.told("id", part, 80), where.told("state", part, 80).lower()
    for name, words in where.words.items():
        if number and state in words:
            yield Delivery(number=number, state=name)


def _answers(where: Places, part: object) -> Iterator[Answered]:
    sender = where.told("from", part, 120)
    text = where.told("text", part, _LONGEST_TEXT)
    if sender and text:
        number = where.told("id", part, 80)
        yield Answered(sender=_as_kept(sender), text=text, number=number)


def _lines(option: object) -> list[str]:
    return [line.strip() for line in str(option).splitlines() if line.strip()]


def _at(line: str) -> tuple[str, str]:
    what, _, place = line.partition(" ")
    if what not in _THINGS or place.strip()[:1] != "/":
        raise ValueError(
            f"option hear_at: {line[:60]!r} is not as id /messages/0/id; there is {', '.join(_THINGS)}."
        )
    return what, place.strip()


def _words(line: str) -> tuple[str, frozenset[str]]:
    state, colon, words = line.partition(":")
    if state.strip() not in _WORDS or not colon:
        raise ValueError(
            f"option hear_words: {line[:60]!r} is not as delivered: delivered read."
        )
    return state.strip(), frozenset(words.lower().split())


def _as_kept(sender: str) -> str:
    """A number as the house keeps it, with a plus."""
    plain = sender.replace(" ", "").replace("-", "")
    return f"+{plain}" if plain.isdecimal() else plain
