"""Months and their percents, as they are entered."""

import re
from collections.abc import Mapping

_LINE = re.compile(
    r"(?P<month>0?[1-9]|1[0-2])\s+(?P<percent>[+-]?\d{1,3}(\.\d+)?)\s*%?"
)
_MOST_PCT = 100


class Unreadable(ValueError):  # noqa: N818 - the text is what cannot be read
    """A line that cannot be read; the text says which and how to write it."""


def read(lines: str) -> Mapping[int, float]:
    """Percent more (or, below nought, less) by the number of the month; the last line of a month counts.

    Raises:
        Unreadable: a line is none.
    """
    return dict(_line(line.strip()) for line in lines.splitlines() if line.strip())


def wrong(options: Mapping[str, object]) -> str:
    """What cannot be read or cannot be, or nothing."""
    try:
        read(str(options["months"]))
    except Unreadable as error:
        return str(error)
    if not 0 <= float(str(options["returning_pct"])) <= _MOST_PCT:
        return "option returning_pct is no percent from 0 to 100."
    if not 0 <= float(str(options["least"])) <= 100_000:
        return "option least is no amount from $0 to $100,000."
    return ""


def _line(line: str) -> tuple[int, float]:
    found = _LINE.fullmatch(line)
    if not found or abs(float(found["percent"])) > _MOST_PCT:
        raise Unreadable(
            f"option months: {line[:60]!r} is not a month and a percent of at most 100, as 5 15."
        )
    return int(found["month"]), float(found["percent"])
