"""Read hours of sky from CSV text, all of them or none."""

import csv
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from itertools import pairwise

from dispatch.hooks.values import Complaint
from dispatch.trade.sky import HOUR, SkyHour
from dispatch.trade.units import f_to_c, inch_to_mm, mph_to_ms

_NOTHING = "Nothing was taken in."
_SAME: Callable[[float], float] = float
# column -> (field of SkyHour, to SI, lowest, highest as written)
COLUMNS: Mapping[str, tuple[str, Callable[[float], float], float, float]] = {
    "air_f": ("air_c", f_to_c, -80, 140),
    "dew_f": ("dew_c", f_to_c, -80, 110),
    "rh_pct": ("rh_pct", _SAME, 0, 100),
    "wind_mph": ("wind_ms", mph_to_ms, 0, 240),
    "gust_mph": ("gust_ms", mph_to_ms, 0, 280),
    "from_deg": ("from_deg", _SAME, 0, 360),
    "cloud_pct": ("cloud_pct", _SAME, 0, 100),
    "rain_in": ("rain_mm", inch_to_mm, 0, 19),
    "rain_prob_pct": ("rain_prob_pct", _SAME, 0, 100),
    "fog": ("fog", _SAME, 0, 1),
}


def read(name: str, text: str) -> tuple[SkyHour, ...]:
    """The hours of a file in order; an empty cell is None, a missing hour stays missing.

    Raises:
        Complaint: a column, a row or a cell is wrong; it says where, what stands there and what is wanted.
    """
    lines = [
        (number, next(csv.reader([line])))
        for number, line in enumerate(text.splitlines(), 1)
        if line.strip() and not line.startswith("#")
    ]
    if not lines:
        raise Complaint(f"{name} is empty. {_NOTHING}")
    header = [cell.strip() for cell in lines[0][1]]
    missing = [column for column in ("time", *COLUMNS) if column not in header]
    if missing:
        raise Complaint(
            f"{name}: the first row lacks the columns {', '.join(missing)}. {_NOTHING}"
        )
    rows = tuple(_rows(name, header, lines[1:]))
    _in_order(name, rows)
    return tuple(hour for _, hour in rows)


def moment(where: str, text: str) -> datetime:
    """An ISO 8601 time with its offset, in UTC."""
    try:
        at = datetime.fromisoformat(text.strip())
    except ValueError:
        at = None
    if at is None or at.tzinfo is None:
        raise Complaint(
            f"{where} is {text!r}; a time with its offset such as 2027-05-24T08:00:00-04:00 is wanted. {_NOTHING}"
        )
    return at.astimezone(UTC)


def _rows(
    name: str, header: Sequence[str], lines: Sequence[tuple[int, list[str]]]
) -> Iterator[tuple[int, SkyHour]]:
    for number, cells in lines:
        if len(cells) != len(header):
            raise Complaint(
                f"{name} line {number} has {len(cells)} cells; {len(header)} are wanted, as in the first row. {_NOTHING}"
            )
        row = dict(zip(header, cells, strict=True))
        where = f"{name} line {number}:"
        at = moment(f"{where} time", row["time"])
        yield (
            number,
            SkyHour(
                at=at,
                **{
                    field: _number(f"{where} {column}", row[column], convert, low, high)
                    for column, (field, convert, low, high) in COLUMNS.items()
                },
            ),
        )


def _in_order(name: str, rows: Sequence[tuple[int, SkyHour]]) -> None:
    for (_, before), (number, after) in pairwise(rows):
        if after.at - before.at < HOUR:
            raise Complaint(
                f"{name} line {number}: time is {after.at:%Y-%m-%dT%H:%MZ}, not an hour or more after "
                f"the row before it ({before.at:%Y-%m-%dT%H:%MZ}); rows in order of time are wanted. {_NOTHING}"
            )


def _number(
    where: str, text: str, convert: Callable[[float], float], low: float, high: float
) -> float | None:
    """A cell in SI; an empty one is unknown."""
    if not text.strip():
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not low <= value <= high:
        raise Complaint(
            f"{where} is {text!r}; a number from {low:g} to {high:g} is wanted, or nothing where it is "
            f"not known. {_NOTHING}"
        )
    return convert(value)
