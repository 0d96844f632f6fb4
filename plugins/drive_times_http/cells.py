"""What a road service answers, as minutes and metres; a cell it leaves empty is not known."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

from dispatch.hooks.values import Complaint, Leg
from plugins.drive_times_http.requests import Part

# Seconds and metres of a cell, None where the service says nothing.
Cell = tuple[float | None, float | None]
_UNITS: Mapping[str, float] = {"kilometers": 1000.0, "miles": 1609.344}


def of_table(data: object) -> list[list[Cell]]:
    """The cells of a table: two matrices of seconds and of metres.

    Raises:
        Complaint: it is none.
    """
    try:
        told = _named(data)
        if told["code"] != "Ok":
            raise Complaint(f"the service answered {str(told['code'])[:40]}.")
        durations, distances = told["durations"], told["distances"]
        return [
            [(_number(s), _number(m)) for s, m in zip(row, far, strict=True)]
            for row, far in zip(durations, distances, strict=True)
        ]
    except (KeyError, TypeError, ValueError) as error:
        raise _no_matrix("durations and distances") from error


def of_matrix(data: object) -> list[list[Cell]]:
    """The cells of a list of rows, each with its time in seconds and its distance in kilometres or miles.

    Raises:
        Complaint: it is none.
    """
    try:
        told = _named(data)
        unit = _UNITS[told.get("units", "kilometers")]
        return [
            [_far(_number(c["time"]), _number(c["distance"]), unit) for c in row]
            for row in told["sources_to_targets"]
        ]
    except (KeyError, TypeError, ValueError) as error:
        raise _no_matrix("sources_to_targets") from error


def legs(part: Part, cells: list[list[Cell]], start_minutes: float) -> Iterator[Leg]:
    """The drives that are known of a part of the matrix.

    Raises:
        Complaint: there are more or fewer cells than were asked for.
    """
    if [len(row) for row in cells] != [len(part.destinations)] * len(part.origins):
        raise Complaint("the service answered another number of places than was asked.")
    for origin, row in zip(part.origins, cells, strict=True):
        for destination, (seconds, metres) in zip(part.destinations, row, strict=True):
            if origin.key != destination.key and None not in (seconds, metres):
                yield Leg(
                    origin=origin.key,
                    destination=destination.key,
                    minutes=math.ceil((seconds or 0.0) / 60 + start_minutes),
                    metres=round(metres or 0.0),
                )


def _named(data: object) -> dict[str, Any]:
    """What is an object of JSON.

    Raises:
        TypeError: it is something else.
    """
    if not isinstance(data, dict):
        raise TypeError(data)
    return data


def _far(seconds: float | None, far: float | None, unit: float) -> Cell:
    return seconds, None if far is None else far * unit


def _number(value: object) -> float | None:
    """A number that can be, None where the cell is empty.

    Raises:
        ValueError: it is neither.
    """
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or value < 0:
        raise ValueError(value)
    return float(value)


def _no_matrix(name: str) -> Complaint:
    return Complaint(
        f"the service answered no matrix ({name}); see whether the option shape is right."
    )
