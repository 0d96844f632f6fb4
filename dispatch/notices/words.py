"""An occasion in a language's words: a subject, a letter, and a short text."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from dispatch.notices import english, segments
from dispatch.notices.reasons import About, Occasion, Reason

TEXT_SEGMENTS = 2


@dataclass(frozen=True, kw_only=True)
class Language:
    """The words of one language: for each reason its subject and sentences, how a letter is laid out, whom to ring."""

    says: Mapping[Reason, Callable[[Any], tuple[str, tuple[str, ...]]]]
    letter: Callable[[Sequence[str], About], str]
    ring: Callable[[About], str]


@dataclass(frozen=True, kw_only=True)
class Wording:
    """What is sent: ``subject`` and ``letter`` by e-mail, ``text`` to a phone."""

    subject: str
    letter: str
    text: str


LANGUAGES: Mapping[str, Language] = {
    "en": Language(
        says={
            Reason.AGREED: english.agreed,
            Reason.AHEAD: english.ahead,
            Reason.ARRIVAL: english.arrival,
            Reason.MORNING: english.morning,
            Reason.MOVED: english.moved,
            Reason.CAME: english.came,
            Reason.PICKUP: english.pickup,
            Reason.FILM_WET: english.film_wet,
            Reason.YEARLY: english.yearly,
            Reason.COVER: english.cover,
            Reason.COVER_SETTLED: english.cover_settled,
            Reason.FILM_THREAT: english.film_threat,
        },
        letter=english.letter,
        ring=english.ring,
    )
}


def write(occasion: Occasion, language: str = "en") -> Wording:
    """Put an occasion into words; a language we do not have is answered in English.

    The text keeps to two segments: what does not fit is left out from the end. The first sentence
    always stands, and the number to ring where there is room for both; the owner, whose it is, is told none.
    """
    words = LANGUAGES.get(language, LANGUAGES["en"])
    subject, sentences = words.says[occasion.reason](occasion)
    owners = occasion.reason == Reason.FILM_THREAT
    return Wording(
        subject=subject,
        letter=words.letter(sentences, occasion.about),
        text=segments.fit(
            sentences, TEXT_SEGMENTS, "" if owners else words.ring(occasion.about)
        ),
    )


def by_hand(occasion: Occasion) -> str:
    """What an occasion's text says, for the owner who tells it by hand: without the number to ring."""
    return write(replace(occasion, about=replace(occasion.about, phone=""))).text
