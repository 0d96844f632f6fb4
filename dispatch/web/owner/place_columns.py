"""The columns of a place's rows: what each is called, how it is entered, and what may be chosen."""

from collections.abc import Mapping, Sequence

from dispatch.actions import place_words
from dispatch.actions.place_bounds import WEEKDAYS
from dispatch.records.models import Closure

Choices = tuple[tuple[str, str], ...]
# Its name, its label, its kind, what may be chosen.
Column = tuple[str, str, str, Choices]


def _said(days: Sequence[int]) -> str:
    words = place_words.days(days)
    return words[:1].upper() + words[1:]


_SOME_DAYS = tuple(
    ("".join(map(str, days)), _said(days))
    for days in (
        place_words.EVERY_DAY,
        place_words.WORKDAYS,
        place_words.WEEKEND,
        *((day,) for day in range(7)),
    )
)
_DAYS = tuple((str(number), day) for number, day in enumerate(WEEKDAYS))


def of() -> Mapping[str, tuple[Column, ...]]:
    """The columns of every sort of rows, in order."""
    far = place_words.unit("distance_m").text
    kinds = tuple((str(key), str(label)) for key, label in Closure.Kind.choices)
    return {
        "hours": (
            ("day", "Day", "pick", _DAYS),
            ("from", "From", "time", ()),
            ("to", "To", "time", ()),
        ),
        "neighbours": (
            ("what", "What", "text", ()),
            ("bearing", "Bearing, °", "number", ()),
            ("far", f"How far, {far}", "number", ()),
            ("sheeted", "Sheeted", "tick", ()),
        ),
        "horizon": (
            ("from", "From, °", "number", ()),
            ("to", "To, °", "number", ()),
            ("high", "Height, °", "number", ()),
        ),
        "closures": (
            ("reason", "Why", "text", ()),
            ("kind", "Kind", "pick", kinds),
            ("from", "From", "moment", ()),
            ("to", "To", "moment", ()),
        ),
        "wettings": (
            ("what", "What", "text", ()),
            ("days", "Days", "pick", _SOME_DAYS),
            ("from", "From", "time", ()),
            ("to", "To", "time", ()),
        ),
    }


def with_own(choices: Choices, entered: str) -> Choices:
    """What may be chosen, and the days that stand where nobody would choose just those."""
    known = {key for key, _ in choices}
    if choices != _SOME_DAYS or not entered.isdigit() or entered in known:
        return choices
    return (*choices, (entered, _said([int(day) for day in entered])))
