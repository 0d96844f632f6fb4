"""Rows that many tests begin from: laid by the actions once in a run, and from memory after that.

What one process laid the others of the run find in a folder, where there is one.

Only what is laid in an empty house, or upon just the rows that were laid from memory, is; and only in SQLite, whose
rows are soon read. Accounts and sessions may stand beside it. What is laid with other plain values is another thing;
what is laid with rows of somebody's own is never kept.
"""

import os
import pickle
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache, wraps
from hashlib import sha256
from pathlib import Path
from types import NoneType
from typing import Any, ParamSpec, TypeVar

from django.db import connection, models, transaction

PLAIN = (str, int, float, bool, datetime, date, NoneType)
FOLDER = "LEEBOARD_TESTS_LAID"
BESIDE = ("django_content_type", "auth_", "records_account", "django_session")

Given = ParamSpec("Given")
Made = TypeVar("Made", bound=models.Model)
Rows = dict[str, list[tuple[Any, ...]]]


@dataclass(frozen=True, kw_only=True)
class Laid:
    """The rows of a house, and which of them whoever laid it hands back."""

    rows: Rows
    model: type[models.Model]
    key: object


# By the names of what was laid, one upon the other.
_KNOWN: dict[tuple[str, ...], Laid] = {}


def from_memory(make: Callable[Given, Made]) -> Callable[Given, Made]:
    """Lay what ``make`` lays from memory, where it was laid upon the same before with the same plain changes."""

    @wraps(make)
    def lay(*given: Given.args, **changes: Given.kwargs) -> Made:
        plain = all(type(value) in PLAIN for value in changes.values())
        upon = _stands() if plain else None
        if upon is None:
            return make(*given, **changes)
        texts = [value for value in given if type(value) in PLAIN]
        with_what = f"{texts} {sorted(changes.items())}"
        names = (*upon, f"{make.__module__}.{make.__qualname__} {with_what}")
        if names not in _KNOWN and (found := _found(names)):
            _KNOWN[names] = found
        if names in _KNOWN:
            _put_back(_KNOWN[names].rows)
        else:
            made = make(*given, **changes)
            _KNOWN[names] = Laid(rows=dict(_rows()), model=type(made), key=made.pk)
            _share(names)
        return _KNOWN[names].model._default_manager.get(pk=_KNOWN[names].key)

    return lay


def _shared(names: tuple[str, ...]) -> Path | None:
    """Where the processes of this run share what was laid by these names; None where each is on its own."""
    folder = os.environ.get(FOLDER)
    named = sha256(repr(names).encode()).hexdigest()
    return Path(folder) / named if folder else None


def _found(names: tuple[str, ...]) -> Laid | None:
    path = _shared(names)
    if path is None or not path.exists():
        return None
    found: Laid = pickle.loads(path.read_bytes())  # noqa: S301 - written by this run
    return found


def _share(names: tuple[str, ...]) -> None:
    path = _shared(names)
    if path is not None:
        half = path.with_suffix(f".{os.getpid()}")
        half.write_bytes(pickle.dumps(_KNOWN[names]))
        half.rename(path)


def _stands() -> tuple[str, ...] | None:
    """The names of what stands in the database; None where that is not known."""
    if connection.vendor != "sqlite":
        return None
    connection.ensure_connection()
    rows = dict(_rows())
    if not rows:
        return ()
    return next((names for names, laid in _KNOWN.items() if laid.rows == rows), None)


@cache
def _tables() -> tuple[str, ...]:
    """The tables that what is laid may have rows in."""
    names = connection.introspection.django_table_names(only_existing=True)
    return tuple(sorted(name for name in names if not name.startswith(BESIDE)))


def _rows() -> Iterator[tuple[str, list[tuple[Any, ...]]]]:
    """Each table with its rows, as the database keeps them."""
    for name in _tables():
        rows = connection.connection.execute(_as_kept(name)).fetchall()
        if rows:
            yield name, rows


@cache
def _as_kept(table: str) -> str:
    """The statement that reads a table's rows; a sign before each column keeps it from being read as a date."""
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT name FROM pragma_table_info("{table}")')  # noqa: S608 - a table's name
        columns = ", ".join(f'+"{name}"' for (name,) in cursor.fetchall())
    return f'SELECT {columns} FROM "{table}"'  # noqa: S608 - names of the table


@transaction.atomic
def _put_back(rows: Rows) -> None:
    """Have these rows and no others stand; which row names which is checked at the end, as in any test."""
    for name in _tables():
        connection.connection.execute(f'DELETE FROM "{name}"')  # noqa: S608 - a table's name
    for name, kept in rows.items():
        into = f'INSERT INTO "{name}" VALUES ({", ".join("?" * len(kept[0]))})'  # noqa: S608 - a table's name
        connection.connection.executemany(into, kept)
