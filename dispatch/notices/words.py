"""An occasion in a language's words: a subject, a letter, and a short text."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from dispatch.notices import english, segments
from dispatch.notices.reasons import Occasion, Reason

TEXT_SEGMENTS = 2


@dataclass(frozen=True, kw_only=True)
class Language:
    """The words of one language: for each reason its subject and sentences, and how a letter is laid out."""

    says: Mapping[Reason, Callable[[Any], tuple[str, tuple[str, ...]]]]
    letter: Callable[[Sequence[str], str], str]


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
            Reason.PICKUP: english.pickup,
            Reason.FILM_WET: english.film_wet,
            Reason.YEARLY: english.yearly,
            Reason.COVER: english.cover,
            Reason.COVER_SETTLED: english.cover_settled,
            Reason.FILM_THREAT: english.film_threat,
        },
        letter=english.letter,
    )
}


def write(occasion: Occasion, language: str = "en") -> Wording:
    """Put an occasion into words; a language we do not have is answered in English.

    The text keeps to two segments: what does not fit is left out from the end. The first sentence
    always stands.
    """
    words = LANGUAGES.get(language, LANGUAGES["en"])
    subject, sentences = words.says[occasion.reason](occasion)
    return Wording(
        subject=subject,
        letter=words.letter(sentences, occasion.about.outfit),
        text=segments.fit(sentences, TEXT_SEGMENTS),
    )
