"""What each kind of work asks of the sky, as one table: a row a family, a cell a limit or a pair of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from dispatch.actions.setting_subjects import Subject
from dispatch.web.owner.settings_lines import Line


class Carded(Protocol):
    """A subject with its lines."""

    @property
    def subject(self) -> Subject: ...
    @property
    def lines(self) -> tuple[Line, ...]: ...


@dataclass(frozen=True, kw_only=True)
class Cell:
    """What stands in a cell; ``name`` is its column's, and its ``unit`` stands beside the numbers on a phone, in the head at a desk."""

    name: str
    unit: str
    said: str
    changed: bool

    @property
    def head(self) -> str:
        """What stands over its column."""
        return f"{self.name}, {self.unit}"

    @property
    def counted(self) -> bool:
        """Whether what it says is a number, which has a unit."""
        return any(one.isdigit() for one in self.said)


@dataclass(frozen=True, kw_only=True)
class Row:
    """A family and its cells."""

    subject: Subject
    cells: tuple[Cell, ...]


@dataclass(frozen=True, kw_only=True)
class Table:
    """Heads with their units, and rows."""

    heads: tuple[str, ...]
    rows: tuple[Row, ...]


# Head, the lower limit, the upper one.
_COLUMNS = (
    ("Air", "air_min_c", "air_max_c"),
    ("Surface", "surface_min_c", "surface_max_c"),
    ("Humidity", "rh_min_pct", "rh_max_pct"),
    ("Above dew point", "spread_min_k", ""),
    ("Rain", "", "rain_max_mm"),
)
_PAIRS = (
    ("Wind / gust", "wind_max_ms", "gust_max_ms"),
    ("Behind screens", "screened_wind_max_ms", "screened_gust_max_ms"),
)


def of(cards: Sequence[Carded]) -> Table:
    """The families' limits as a table."""
    rows = tuple(_row(card) for card in cards)
    return Table(heads=tuple(cell.head for cell in rows[0].cells), rows=rows)


def _row(card: Carded) -> Row:
    by_name = {line.name.partition(".")[2]: line for line in card.lines}
    bands = [_band(head, by_name, low, high) for head, low, high in _COLUMNS]
    pairs = [_pair(head, by_name[one], by_name[two]) for head, one, two in _PAIRS]
    return Row(subject=card.subject, cells=(*bands, *pairs))


def _band(head: str, by_name: Mapping[str, Line], low: str, high: str) -> Cell:
    ends = [by_name[name] for name in (low, high) if name]
    least = by_name[low].shown if low and not _open(by_name[low]) else ""
    most = by_name[high].shown if high and not _open(by_name[high]) else ""
    said = f"{least} to {most}" if least and most else _one_end(least, most)
    return Cell(
        name=head,
        unit=ends[0].unit.text,
        said="none" if head == "Rain" and most == "0" else said,
        changed=any(line.changed for line in ends),
    )


def _open(line: Line) -> bool:
    """Whether an end limits nothing: there is none, or it is nought or a hundred per cent."""
    own = line.name.rpartition(".")[2]
    return (own, line.shown) in (("rh_min_pct", "0"), ("rh_max_pct", "100"))


def _one_end(least: str, most: str) -> str:
    if least:
        return f"≥ {least}"
    return f"≤ {_brief(most)}" if most else "any"


def _brief(shown: str) -> str:
    """A limit to a hundredth: a tenth of an inch of rain is no rounder in millimetres."""
    return f"{round(float(shown), 2):g}"


def _pair(head: str, wind: Line, gust: Line) -> Cell:
    return Cell(
        name=head,
        unit=wind.unit.text,
        said=f"{wind.shown} / {gust.shown}",
        changed=wind.changed or gust.changed,
    )
