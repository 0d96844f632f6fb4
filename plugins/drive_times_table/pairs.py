"""Drives that people have timed, as they are entered."""

import re
from collections.abc import Iterator, Mapping

_LINE = re.compile(
    r"(?P<a>[\w-]+)\s+(?P<b>[\w-]+)\s+(?P<minutes>\d{1,4})(\s+(?P<km>\d+(\.\d+)?))?"
)
# Minutes, and metres where they were told, from one place's key to another's.
Pairs = Mapping[tuple[str, str], tuple[int, int | None]]


class Unreadable(ValueError):  # noqa: N818 - the text is what cannot be read
    """A line that cannot be read; the text says which and how to write it."""


def read(lines: str) -> Pairs:
    """Both ways of every line; the last of a pair counts.

    Raises:
        Unreadable: a line is none.
    """
    return {way: told for line in lines.splitlines() for way, told in _ways(line)}


def wrong(options: Mapping[str, object]) -> str:
    """What cannot be read, or nothing."""
    try:
        read(str(options["pairs"]))
    except Unreadable as error:
        return str(error)
    return ""


def _ways(line: str) -> Iterator[tuple[tuple[str, str], tuple[int, int | None]]]:
    if not line.strip():
        return
    found = _LINE.fullmatch(line.strip())
    if not found or found["a"] == found["b"]:
        raise Unreadable(
            f"option pairs: {line.strip()[:60]!r} is not two places and minutes, as shop oars-head 36."
        )
    metres = round(float(found["km"]) * 1000) if found["km"] else None
    told = int(found["minutes"]), metres
    yield (found["a"], found["b"]), told
    yield (found["b"], found["a"]), told
