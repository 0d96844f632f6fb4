"""The options as gates, high waters and harmonic constants."""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from plugins.tide_gate.harmonics import KINDS, Constant

_GATE = re.compile(r"(?P<place>[\w-]+)\s+(?P<above>above\s+)?(?P<number>-?\d+(\.\d+)?)")
_MOST_HOURS = 6.0


class Unreadable(ValueError):  # noqa: N818 - the text is what cannot be read
    """An option that cannot be read; the text says which and how to write it."""


@dataclass(frozen=True, kw_only=True)
class Gate:
    """A place that is usable some hours either side of high water, or while the tide stands so high."""

    hours: float | None = None
    above_m: float | None = None


@dataclass(frozen=True, kw_only=True)
class Tides:
    """All that was entered; ``table`` are high waters by the place's own clock, without a zone."""

    gates: Mapping[str, Gate]
    table: tuple[datetime, ...]
    constants: tuple[Constant, ...]
    mean_m: float


def read(options: Mapping[str, object]) -> Tides:
    """The tides that options make.

    Raises:
        Unreadable: one of them cannot be read, or they do not go together.
    """
    tides = Tides(
        gates=dict(_gate(line) for line in _lines(options["gates"])),
        table=tuple(sorted(_moment(line) for line in _lines(options["high_waters"]))),
        constants=tuple(_constant(line) for line in _lines(options["constants"])),
        mean_m=float(str(options["mean_m"])),
    )
    if bool(tides.table) == bool(tides.constants):
        raise Unreadable("enter either high_waters or constants, one of the two.")
    if tides.table and any(gate.above_m is not None for gate in tides.gates.values()):
        raise Unreadable(
            "option gates: a height needs constants; a table of high waters serves hours alone."
        )
    return tides


def wrong(options: Mapping[str, object]) -> str:
    """What cannot be read, or nothing."""
    try:
        read(options)
    except Unreadable as error:
        return str(error)
    return ""


def _lines(option: object) -> list[str]:
    return [line.strip() for line in str(option).splitlines() if line.strip()]


def _gate(line: str) -> tuple[str, Gate]:
    found = _GATE.fullmatch(line)
    if not found:
        raise Unreadable(
            f"option gates: {line[:60]!r} is not as oars-head 3, or oars-head above 1.2."
        )
    number = float(found["number"])
    if found["above"]:
        return found["place"], Gate(above_m=number)
    if not 0 < number <= _MOST_HOURS:
        raise Unreadable(
            f"option gates: {line[:60]!r}: more than 0 and at most {_MOST_HOURS:g} h are wanted."
        )
    return found["place"], Gate(hours=number)


def _moment(line: str) -> datetime:
    try:
        return datetime.strptime(line.replace("T", " "), "%Y-%m-%d %H:%M")  # noqa: DTZ007 - the place's clock, whose zone the ask tells
    except ValueError as error:
        raise Unreadable(
            f"option high_waters: {line[:60]!r} is not as 2027-05-24 09:10."
        ) from error


def _constant(line: str) -> Constant:
    try:
        name, amplitude, lag = line.split()
        one = Constant(
            name=name.upper(), amplitude_m=float(amplitude), lag_deg=float(lag)
        )
    except ValueError as error:
        raise Unreadable(
            f"option constants: {line[:60]!r} is not as M2 1.36 104.0."
        ) from error
    if one.name not in KINDS:
        raise Unreadable(
            f"option constants: {name[:20]} is not reckoned with; there is {', '.join(KINDS)}."
        )
    if not (math.isfinite(one.amplitude_m) and math.isfinite(one.lag_deg)):
        raise Unreadable(f"option constants: {line[:60]!r} has what is no number.")
    return one
