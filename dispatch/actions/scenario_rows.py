"""Entries of a scenario's files, read and made into checked rows."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import QuerySet

from dispatch.actions.errors import Refused

M = TypeVar("M", bound=models.Model)
_NO_MOMENT = "give a moment with its offset, as 2027-05-24T07:30-04:00."


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry of one file; ``name`` is how a person finds it there."""

    file: str
    name: str
    values: Mapping[str, object]

    def refuse(self, field: str, said: str) -> NoReturn:
        """Say in one sentence which file, entry and field is wrong."""
        raise Refused(f"{self.file}, entry {self.name}, {field}: {said}")

    def get(self, field: str) -> object:
        """A value that has to be there.

        Raises:
            Refused: it is missing.
        """
        if field not in self.values:
            self.refuse(field, "it is missing. Add it.")
        return self.values[field]

    def within(self, field: str) -> Iterator["Entry"]:
        """The entries of a list inside this one, none where it is left out.

        Raises:
            Refused: it is no list of objects.
        """
        listed = self.values.get(field, [])
        if not isinstance(listed, list):
            self.refuse(field, "it should be a list.")
        for number, values in enumerate(listed, start=1):
            if not isinstance(values, dict):
                self.refuse(field, f"item {number} should be an object.")
            name = f"{self.name}, {field} {number}"
            yield Entry(file=self.file, name=name, values=values)

    def weekdays(self) -> tuple[int, ...]:
        """The weekdays of a row of hours, Monday is 0.

        Raises:
            Refused: ``days`` is missing or holds something else.
        """
        days = self.get("days")
        if not isinstance(days, list) or any(day not in range(7) for day in days):
            self.refuse("days", "list weekdays as 0 (Monday) to 6 (Sunday).")
        return tuple(days)


def entries(rows: object, file: str) -> tuple[Entry, ...]:
    """Parsed JSON as entries, named by their key, name or number.

    Raises:
        Refused: it is no list of objects.
    """
    if not isinstance(rows, list):
        raise Refused(f"{file} should be a list of entries, in square brackets.")
    found = []
    for number, values in enumerate(rows, start=1):
        if not isinstance(values, dict):
            raise Refused(f"{file}, entry {number} should be an object, in braces.")
        name = str(values.get("key") or values.get("name") or number)
        found.append(Entry(file=file, name=name, values=values))
    return tuple(found)


def read(path: Path) -> tuple[Entry, ...]:
    """The entries of one JSON file in UTF-8.

    Raises:
        Refused: it cannot be read, is no JSON, or is no list of objects.
    """
    return entries(parsed(path), path.name)


def parsed(path: Path) -> object:
    """What one JSON file in UTF-8 holds; NaN and infinities are not numbers here.

    Raises:
        Refused: it cannot be read or is no JSON.
    """
    try:
        return json.loads(path.read_text("utf-8"), parse_constant=_no_number)
    except OSError as error:
        raise Refused(f"{path.name} cannot be read: {error.strerror}.") from error
    except ValueError as error:
        raise Refused(f"{path.name} is not valid JSON: {error}.") from error


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} is not a number")


def made(
    model: type[M], entry: Entry, *, apart: tuple[str, ...] = (), **given: object
) -> M:
    """Make a checked, unsaved row from an entry's values and those given.

    ``apart`` names what in the entry is handled elsewhere.

    Raises:
        Refused: a field is unknown, missing, of the wrong sort, or breaks the table's rules.
    """
    fields = _fields(model)
    values = {name: value for name, value in entry.values.items() if name not in apart}
    for name in values:
        if name not in fields or name in given or fields[name].is_relation:
            entry.refuse(name, "it is not known here. Check its spelling.")
    row = model(**values, **given)
    _check(row, entry, fields)
    return row


def stored(
    model: type[M], entry: Entry, *, apart: tuple[str, ...] = (), **given: object
) -> M:
    """Make a checked row and save it.

    Raises:
        Refused: as `made`.
    """
    row = made(model, entry, apart=apart, **given)
    row.save()
    return row


def found(model: type[M], entry: Entry, field: str, *, by: str = "key") -> M:
    """The row an entry points at.

    Raises:
        Refused: there is none.
    """
    wanted = entry.get(field)
    called = model._meta.verbose_name  # noqa: SLF001 - the framework's documented way
    if not isinstance(wanted, str):
        entry.refuse(field, f"it should be the {by} of a {called}.")
    row: M | None = QuerySet[M, M](model).filter(**{by: wanted}).first()
    if row is None:
        entry.refuse(field, f"there is no {called} {wanted}.")
    return row


def moment(entry: Entry, field: str) -> datetime:
    """An aware moment of an entry.

    Raises:
        Refused: it is missing, no ISO 8601 moment, or has no offset.
    """
    try:
        read_as = datetime.fromisoformat(str(entry.get(field)))
    except ValueError:
        entry.refuse(field, _NO_MOMENT)
    if read_as.tzinfo is None:
        entry.refuse(field, _NO_MOMENT)
    return read_as


def _fields(model: type[models.Model]) -> "dict[str, models.Field[Any, Any]]":
    meta = model._meta  # noqa: SLF001 - the framework's documented way to a table's fields
    return {field.name: field for field in meta.concrete_fields}


def _check(
    row: models.Model, entry: Entry, fields: "Mapping[str, models.Field[Any, Any]]"
) -> None:
    """Check every field and rule; an empty list or object is a value, not a gap."""
    empty = {
        name
        for name, field in fields.items()
        if isinstance(field, models.JSONField)
        and getattr(row, name) == field.get_default()
    }
    try:
        row.full_clean(exclude=empty)
    except ValidationError as error:
        wrong, said = next(iter(error.message_dict.items()))
        entry.refuse("the whole" if wrong == "__all__" else wrong, said[0])
    for name, field in fields.items():
        moment = getattr(row, name)
        if isinstance(field, models.DateTimeField) and moment and not moment.tzinfo:
            entry.refuse(name, _NO_MOMENT)
