"""What may be wrong with the parts of an answer, each in a sentence, empty where nothing is."""

import math
from collections.abc import Iterable
from datetime import datetime

MOST_ENTRIES = 5000


def first(sentences: Iterable[str]) -> str:
    """The first of some sentences that says something."""
    return next((sentence for sentence in sentences if sentence), "")


def number(name: str, value: object, low: float, high: float) -> str:
    """What is wrong with a number that may be unknown."""
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"{name} is {value!r}, which is no number."
    if not math.isfinite(value):
        return f"{name} is {value}, which is no number."
    if not low <= value <= high:
        return f"{name} is {value:g}; {low:g} to {high:g} can be."
    return ""


def text(name: str, said: object, most: int) -> str:
    """What is wrong with a text that must say something."""
    return f"{name} is empty." if said == "" else may_be_text(name, said, most)


def may_be_text(name: str, said: object, most: int) -> str:
    """What is wrong with a text that may be empty: no letters can be stored of a NUL or half a pair."""
    good = isinstance(said, str) and len(said) <= most and _storable(said)
    return "" if good else f"{name} is no text of at most {most} letters."


def _storable(said: str) -> bool:
    return "\0" not in said and not any("\ud800" <= c <= "\udfff" for c in said)


def entries(found: object, wanted: type) -> str:
    """What is wrong with entries that are to be a tuple of one kind, and not too many."""
    if not isinstance(found, tuple):
        return f"{type(found).__name__} where a tuple of {wanted.__name__} is wanted."
    if len(found) > MOST_ENTRIES:
        return f"{len(found)} entries, more than {MOST_ENTRIES}."
    strange = next((one for one in found if not isinstance(one, wanted)), None)
    return f"{type(strange).__name__} among its entries." if strange is not None else ""


def moment(name: str, given: object) -> str:
    """What is wrong with a moment, which is to carry its zone."""
    aware = isinstance(given, datetime) and given.tzinfo is not None
    return "" if aware else f"{name} is no moment with a time zone."
