"""A row as the owner keeps it: what of it was changed, stored with a line in the history for each."""

import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import Model, QuerySet
from django.utils.text import slugify

from dispatch.actions import history
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused, Stale
from dispatch.records.models import Account

_KEY_LONGEST = 30
# Words that stand in addresses where a key may stand.
_TAKEN_WORDS = {"new", "import", "export"}


def print_of(values: Mapping[str, Any]) -> str:
    """A short word that changes with any of a row's values, to tell whether somebody else changed it meanwhile."""
    told = json.dumps(values, default=str, sort_keys=True)
    return hashlib.sha256(told.encode()).hexdigest()[:16]


def fresh(called: str, values: Mapping[str, Any], seen: str) -> None:
    """Check that a row still is as whoever changes it saw it; an empty ``seen`` is not checked.

    Raises:
        Stale: it is not.
    """
    if seen and seen != print_of(values):
        raise crossed(called)


def crossed(called: str) -> Stale:
    """What is said where somebody else changed it while it was written."""
    return Stale(
        f"{called} was changed while you were writing, so nothing of yours is stored yet."
    )


def refuse(faults: Mapping[str, str]) -> None:
    """Refuse for the first of some faults, where there is one.

    Raises:
        Refused: there is one.
    """
    if faults:
        raise Refused(next(iter(faults.values())))


def differing(before: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, Any]:
    """Of new values, those that differ; numbers to a millionth, for they went through another unit."""
    return {
        name: value
        for name, value in new.items()
        if name in before and not _same(before[name], value)
    }


def told(
    entries: Iterable[Entry], before: Mapping[str, Any], changed: Mapping[str, Any]
) -> tuple[str, ...]:
    """What was changed, each to what and what it was."""
    return tuple(
        f"“{entry.label}” {history.turned(entry.said(before[entry.name]), entry.said(changed[entry.name]))}"
        for entry in entries
        if entry.name in changed
    )


def write(
    verb: str,
    subject: tuple[str, str],
    sentences: Iterable[str],
    *,
    by: Account | None,
    why: str = "",
) -> None:
    """A line in the history for each sentence; ``subject`` is its key there and how it is called."""
    key, called = subject
    for sentence in sentences:
        history.write(verb, key, f"{called}: {sentence}.", by=by, why=why)


def slug(words: str) -> str:
    """Words as a key: small letters, figures and hyphens."""
    return slugify(words)[:_KEY_LONGEST].strip("-") or "other"


def new_key(name: str, rows: QuerySet[Any]) -> str:
    """A key for a new row, from its name, that no other has."""
    stem = slug(name)
    taken = set(rows.filter(key__startswith=stem).values_list("key", flat=True))
    if stem not in taken | _TAKEN_WORDS:
        return stem
    number = 2
    while f"{stem}-{number}" in taken:
        number += 1
    return f"{stem}-{number}"


def stands(row: Model, entries: Iterable[Entry]) -> dict[str, Any]:
    """A row's values by the names of its entries; another row it points at by its key or number."""
    return {entry.name: _value(getattr(row, entry.name)) for entry in entries}


def _value(value: Any) -> Any:  # noqa: ANN401 - whatever the field holds
    if isinstance(value, Model):
        return getattr(value, "key", None) or str(value.pk)
    return value


def _same(one: object, other: object) -> bool:
    if isinstance(one, float | int) and isinstance(other, float | int):
        return abs(float(one) - float(other)) < 1e-6
    return one == other
