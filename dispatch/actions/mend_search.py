"""The cheapest single change by hand that mends a snag: every likely one is tried on the plan, judged and priced."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from dispatch.actions import mend_house, mend_moves, mend_over, mend_swaps
from dispatch.actions.board_reading import Reading
from dispatch.actions.by_hand import Answer

Ask = Mapping[str, Any]
Tried = Iterator[tuple[Ask, Answer]]
# By what a snag is about: the changes that mend it, those alone.
_WAYS: Mapping[str, Callable[[Reading, str], Tried]] = {
    "sky": mend_moves.under_the_sky,
    "early": mend_moves.on_hard_film,
    "spare": mend_moves.with_time_to_spare,
    "hands": mend_over.more_hands,
    "one-side": mend_over.another_day,
    "masked": mend_over.another_day,
    "late": mend_moves.in_time,
    "tight": mend_moves.in_good_time,
    "full": mend_moves.off_a_day,
    "hours": mend_swaps.within_hours,
    "away": mend_swaps.instead,
    "house": mend_house.keeping,
    "broken": mend_house.let_in,
    "left": mend_house.let_one_in,
}
_NONE = {
    "sky": "No other hours and vans out that week take it as the rest stands. Plan the rest anew.",
    "spare": "No other hour has more to spare as the rest stands. Start on time, with all at hand: free.",
    "hands": "No bigger team that is out, and nobody who is there and free, can take it that day as the rest stands",
    "one-side": "No later day takes that side as the rest stands: masked work waits 8 h at most",
    "masked": "No later day takes the masking with all that hangs on it as the rest stands",
    "early": "No later hour fits as the rest stands. Read the hull and try the film before the first stroke: free, 5 min.",
    "tight": "No other hour of her last visit leaves more to spare as the rest stands.",
    "late": "No other hour of her last visit keeps the promise. Plan the rest anew, or tell her owner.",
    "full": "Nothing of that day goes on another day as the rest stands.",
    "hours": "Nobody else can ride one of those days. Agree on the longer hours, or plan the rest anew.",
    "away": "Nobody else can ride that day as it stands. Plan the rest anew.",
    "house": "No single move and no swap mends it as the rest stands.",
    "broken": "No single change lets her in. Build the week again with somebody or a van more, or tell her owner.",
    "left": "No single change lets one of them in. What would stands under “Left out of this week”.",
}


def knows(about: str) -> bool:
    """Whether there are changes to try for what a snag is about."""
    return about.partition(":")[0] in _WAYS


@dataclass(frozen=True, kw_only=True)
class Found:
    """A mend in words, the cents the week then costs more, and what does it; nothing does where none was found."""

    words: str
    cents: int = 0
    ask: Ask = field(default_factory=dict)


def cheapest(reading: Reading, about: str) -> Found | None:
    """The cheapest change that mends what a snag is about; None where the board knows of no way for its kind.

    Raises:
        Refused: the plan cannot be read.
    """
    kind, _, which = about.partition(":")
    if kind not in _WAYS:
        return None
    tried = [(ask, answer) for ask, answer in _WAYS[kind](reading, which)]
    best = min(tried, key=lambda one: (len(one[1].lost), one[1].cents), default=None)
    if best is None:
        return Found(words=_NONE[kind]) if kind in _NONE else None
    ask, answer = best
    return Found(words=_words(answer), cents=answer.cents, ask=ask)


def _words(answer: Answer) -> str:
    lost = f"; no visit any more: {', '.join(answer.lost)}" if answer.lost else ""
    slides = len(answer.slides)
    moved = (
        f"; {slides} other visit{' slides' if slides == 1 else 's slide'}"
        if slides
        else ""
    )
    return f"{answer.sentence}{moved}{lost}"
