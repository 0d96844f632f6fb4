"""The small shapes a week problem is made of, each refused with one clear sentence."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any, TypeVar

from dispatch.planner.problem import InvalidProblem, Lag, Minutes

Raw = Mapping[str, Any]
T = TypeVar("T")
# More minutes, metres, cents or units than any week has; their sums still fit the search's numbers.
MOST = 2_000_000_000


def whole(value: object, what: str, *, least: int | None = 0) -> int:
    """Return a whole number, at least `least`."""
    if type(value) is not int:
        raise InvalidProblem(f"{what} is {value!r}; it must be a whole number.")
    if least is not None and value < least:
        raise InvalidProblem(f"{what} is {value}; it must not be below {least}.")
    if value > MOST:
        raise InvalidProblem(f"{what} is {value}; it must not be above {MOST}.")
    return value


def flag(row: Raw, key: str) -> bool:
    """Return true or false, and nothing that only looks like it."""
    value = row[key]
    if type(value) is not bool:
        raise InvalidProblem(f"{key!r} is {value!r}; it must be true or false.")
    return value


def name(row: Raw, key: str) -> str:
    """Return a name."""
    value = row[key]
    if not isinstance(value, str):
        raise InvalidProblem(f"{key!r} is {value!r}; it must be a name.")
    return value


def names(row: Raw, key: str) -> list[str]:
    """Return a list of names."""
    if not isinstance(row[key], list | tuple):
        raise InvalidProblem(f"{key!r} is {row[key]!r}; it must be a list of names.")
    return [name({key: one}, key) for one in row[key]]


def span(value: Sequence[object], what: str) -> Minutes:
    """Return a span that runs forward from minute 0 or later."""
    start, end = whole(value[0], what, least=None), whole(value[1], what, least=None)
    if len(value) != 2 or start < 0 or end < start:
        raise InvalidProblem(
            f"{what} is {list(value)}; it must run forward from minute 0 or later."
        )
    return start, end


def duty(rows: Sequence[Any], days: int, what: str) -> tuple[Minutes | None, ...]:
    """Return one span or None for each day."""
    if len(rows) != days:
        raise InvalidProblem(f"{what} lists {len(rows)} days, but the week has {days}.")
    return tuple(None if row is None else span(row, what) for row in rows)


def read_lag(value: object, what: str) -> Lag:
    """Return a lag: whole minutes, or a step table without holes."""
    if not isinstance(value, list | tuple):
        return whole(value, what)
    rows = tuple((*span(row[:2], what), whole(row[2], what)) for row in value)
    if not rows:
        raise InvalidProblem(f"{what} is an empty table; give it at least one row.")
    for (_, end, _), (start, _, _) in pairwise(rows):
        if start != end:
            raise InvalidProblem(
                f"{what} has a table whose rows do not meet: one ends at minute {end}, the next starts at {start}."
            )
    return rows


def by_id(rows: Iterable[Raw], make: Callable[[Raw], T], what: str) -> dict[str, T]:
    """Return the made rows by id; ids are unique."""
    made: dict[str, T] = {}
    for row in rows:
        if row["id"] in made:
            raise InvalidProblem(f"Two {what} are called {row['id']!r}.")
        made[row["id"]] = make(row)
    return made


def matrix(rows: Sequence[Any], size: int, what: str) -> tuple[tuple[int, ...], ...]:
    """Return a square matrix of whole numbers."""
    if len(rows) != size or any(len(row) != size for row in rows):
        raise InvalidProblem(
            f"{what} must be {size} rows of {size} numbers, one for each place."
        )
    return tuple(tuple(whole(x, f"A number in {what}") for x in row) for row in rows)


def counts(row: Raw, what: str) -> dict[str, int]:
    """Return whole amounts by name."""
    return {key: whole(value, f"{what} {key}") for key, value in row.items()}
