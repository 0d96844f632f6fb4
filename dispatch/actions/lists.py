"""Lists taken out as CSV and brought in again: tried first, row by row, then all of it or nothing (RFC 4180)."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from dispatch.actions import access, entries, history, keeping
from dispatch.actions.entries import Entry
from dispatch.actions.errors import Refused
from dispatch.actions.tables import Table
from dispatch.records.models import Account

MOST_BYTES = 1_000_000
MOST_ROWS = 5000
# A spreadsheet takes a cell that begins with one of these for a formula.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_GUARD = "'"
_PARTS = (",", ";", "\t")
_NUMBERS = {"number", "whole", "degrees", "tick"}


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a row of a list does: ``does`` is new, changed, same or wrong; ``line`` counts the file's rows, its head is 1."""

    line: int
    does: str
    called: str
    words: str


def written(table: Table) -> str:
    """A list as CSV: a head, then a row each, ended by CR LF; cells that a spreadsheet would run are guarded."""
    out = io.StringIO()
    writer = csv.writer(out)
    columns = table.entries()
    writer.writerow([table.mark, *(head(entry) for entry in columns)])
    for row in table.rows():
        values = table.values(row)
        cells = [_cell(entry, values[entry.name]) for entry in columns]
        writer.writerow([table.mark_of(row), *cells])
    return out.getvalue()


def head(entry: Entry) -> str:
    """A column's name: what it is and the unit it is in."""
    return f"{entry.label}, {entry.unit.text}" if entry.unit.text else entry.label


def guarded(text: str) -> str:
    """A text as no spreadsheet takes it for a formula."""
    return f"{_GUARD}{text}" if text.startswith(_FORMULA) else text


def tried(table: Table, text: str, *, by: Account) -> tuple[Told, ...]:
    """What bringing a list in would do, row by row; nothing is stored.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is no list of this sort.
    """
    with transaction.atomic():
        told = _run(table, text, by)
        transaction.set_rollback(True)
    return told


@transaction.atomic
def bring_in(table: Table, text: str, *, by: Account) -> tuple[Told, ...]:
    """Bring a list in, all or nothing.

    Raises:
        Stranger: the account is not the owner's.
        Refused: it is no list of this sort, or a row of it is wrong; nothing is stored.
    """
    told = _run(table, text, by)
    wrong = [one for one in told if one.does == "wrong"]
    if wrong:
        raise Refused(
            f"Nothing was brought in: row {wrong[0].line} is wrong. {wrong[0].words}"
        )
    done = [one for one in told if one.does != "same"]
    if done:
        new = sum(one.does == "new" for one in done)
        sentence = (
            f"Brought in {table.name.lower()}: {new} new, {len(done) - new} changed."
        )
        history.write("bring-in", f"list {table.key}", sentence, by=by)
    return told


def _run(table: Table, text: str, by: Account) -> tuple[Told, ...]:
    access.owner(by)
    columns = table.entries()
    heads, rows = _parsed(text, table, columns)
    known = {table.mark_of(row): row for row in table.rows()}
    seen: set[str] = set()
    twins: set[tuple[str, ...]] = set()
    bringing = _Bringing(table=table, columns=columns, known=known, by=by)
    told = []
    for line, cells in rows:
        written_row = _by_name(heads, cells, columns)
        mark = written_row.pop(table.mark, "").strip()
        if mark and mark in seen:
            told.append(_wrong(line, mark, f"{mark} stands twice in the list."))
            continue
        if not mark and tuple(cells) in twins:
            called = written_row.get("name", "")
            told.append(_wrong(line, called, "The same new row stands twice."))
            continue
        seen.add(mark)
        twins.add(tuple(cells))
        told.append(_row(bringing, (line, mark), written_row))
    return tuple(told)


def _parsed(
    text: str, table: Table, columns: Sequence[Entry]
) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """The heads, and the rows that are not empty with their number in the list."""
    if len(text.encode()) > MOST_BYTES:
        raise Refused("The list has more than 1 MB. Bring it in in parts.")
    try:
        lines = _lines(text.removeprefix("\ufeff"), table.mark)
    except csv.Error as error:
        raise Refused(f"That is no CSV: {error}. Save it as CSV, UTF-8.") from error
    if not lines or table.mark not in (heads := [one.strip() for one in lines[0]]):
        raise Refused(
            f"The first row should name the columns, {table.mark} the first of them. Take the list out to see how."
        )
    known = {table.mark, *(head(entry) for entry in columns)}
    for one in heads:
        if one not in known or heads.count(one) > 1:
            raise Refused(
                f"Column {one or 'without a name'} is not known here or stands twice. Take it out or rename it."
            )
    if len(lines) - 1 > MOST_ROWS:
        raise Refused(f"The list has more than {MOST_ROWS} rows. Bring it in in parts.")
    rows = [(n, row) for n, row in enumerate(lines[1:], start=2) if any(row)]
    return heads, rows


def _lines(text: str, mark: str) -> list[list[str]]:
    """A list's rows by whatever parts its cells: a comma, or what spreadsheets write where the comma is the point."""
    first = text.partition("\n")[0]
    for parts in _PARTS:
        heads = next(csv.reader([first], delimiter=parts), [])
        if len(heads) > 1 and mark in (one.strip() for one in heads):
            return list(csv.reader(io.StringIO(text), strict=True, delimiter=parts))
    return list(csv.reader(io.StringIO(text), strict=True))


def _by_name(
    heads: Sequence[str], cells: Sequence[str], columns: Sequence[Entry]
) -> dict[str, str]:
    """A row's cells by the names of their entries; the guard is taken off again."""
    names = {head(entry): entry.name for entry in columns}
    found = {
        names.get(one, one): _bare(cell)
        for one, cell in zip(heads, cells, strict=False)
    }
    if len(cells) > len(heads):
        found["more"] = "yes"
    return found


def _bare(cell: str) -> str:
    guard = cell.startswith(_GUARD) and cell[1:].startswith(_FORMULA)
    return cell[1:] if guard else cell


@dataclass(frozen=True, kw_only=True)
class _Bringing:
    """What every row of a list is brought in by."""

    table: Table
    columns: tuple[Entry, ...]
    known: Mapping[str, Any]
    by: Account


def _row(bringing: _Bringing, at: tuple[int, str], cells: dict[str, str]) -> Told:
    table, known = bringing.table, bringing.known
    line, mark = at
    if "more" in cells:
        return _wrong(line, mark, "The row has more cells than there are columns.")
    if mark and mark not in known:
        return _wrong(
            line,
            mark,
            f"{table.mark}: there is no {mark}. Leave it empty for a new row.",
        )
    row = known.get(mark) if mark else None
    asked = [entry for entry in bringing.columns if entry.name in cells]
    stands = table.values(row) if row is not None else {}
    values, faults = entries.read_over(asked, cells, stands)
    if faults:
        labels = {entry.name: head(entry) for entry in asked}
        said = " ".join(f"{labels[name]}: {why}" for name, why in faults.items())
        return _wrong(line, mark or cells.get("name", ""), said)
    try:
        with transaction.atomic():
            return _done(bringing, (line, row), values)
    except Refused as refusal:
        return _wrong(line, mark or str(values.get("name", "")), str(refusal))


def _done(bringing: _Bringing, at: tuple[int, Any], values: Mapping[str, Any]) -> Told:
    """Add or change a row, and say what that was."""
    table, by = bringing.table, bringing.by
    line, row = at
    if row is None:
        whole = table.blank() | dict(values)
        lacking = [
            head(e)
            for e in bringing.columns
            if not e.may_lack
            and e.name not in values
            and whole.get(e.name) in (None, "")
        ]
        if lacking:
            raise Refused(f"A new row needs {', '.join(lacking)}.")
        made = table.add(whole, by)
        return Told(line=line, does="new", called=str(made), words="")
    stands = table.values(row)
    changed = keeping.differing(stands, values)
    if not changed:
        return Told(line=line, does="same", called=str(row), words="")
    table.change(row, changed, by)
    words = "; ".join(keeping.told(bringing.columns, stands, changed))
    return Told(line=line, does="changed", called=str(row), words=words)


def _wrong(line: int, called: str, words: str) -> Told:
    return Told(line=line, does="wrong", called=called, words=words)


def _cell(entry: Entry, value: object) -> str:
    shown = entry.shown(value)
    return shown if entry.kind in _NUMBERS else guarded(shown)
